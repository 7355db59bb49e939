// An incident on the load page: reported, followed, closed and opened again.
#include "tests/gui/ManagerFixture.h"
#include "ui/load/IncidentsTab.h"

#include <QLineEdit>
#include <QPlainTextEdit>

#include <algorithm>

namespace kitround::ui {
namespace {

TEST_F(ManagerStory, TheIncidentsOfTheSampleAreFollowedAndNoneAtAllSaysWhatTheListIsFor) {
    EXPECT_TRUE(find<QLabel>("incidentNothing").isHidden());
    auto &table = find<DenseTable>("incidentTable");
    ASSERT_EQ(table.model()->rowCount(), 3);
    EXPECT_EQ(text(*table.model(), 0, 0), QStringLiteral("report due soon"));
    EXPECT_EQ(text(*table.model(), 1, 0), QStringLiteral("open"));
    EXPECT_EQ(text(*table.model(), 2, 0), QStringLiteral("closed"));
    const auto steps = [&] { return find<QLabel>("incidentSteps").text(); };
    table.selectSourceRow(0);
    EXPECT_TRUE(steps().contains(QStringLiteral("quarantine shelf"))) << steps().toStdString();
    EXPECT_TRUE(find<QPushButton>("incidentAside").isEnabled()) << "its lot is still given out";
    table.selectSourceRow(1);
    EXPECT_TRUE(steps().contains(QStringLiteral("Tell the prescriber"))) << steps().toStdString();

    IncidentsTab none(session_);
    none.clear();
    auto &nothing = in<QLabel>(none, "incidentNothing");
    EXPECT_FALSE(nothing.isHidden());
    EXPECT_TRUE(nothing.text().contains(QStringLiteral("Report an incident")));
    EXPECT_TRUE(in<DenseTable>(none, "incidentTable").isHidden());
}

TEST_F(ManagerStory, AnIncidentIsReportedFollowedAndClosed) {
    const Snapshot before = session_.agency()->snapshot();
    const auto lot = std::ranges::find(before.lots, LotState::Usable, &Lot::state);
    ASSERT_NE(lot, before.lots.end());
    withNextDialog([&](QWidget &form) {
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "what it is about and what happened are asked for";
        choose(form, "lot_id", qint64(lot->id.value()));
        choose(form, "kind", qint64(IncidentKind::Device));
        choose(form, "harm", qint64(IncidentHarm::Serious));
        in<QPlainTextEdit>(form, "facts").setPlainText(QStringLiteral("No vacuum; the patient fainted."));
        auto &patient = in<QComboBox>(form, "patient_id");
        patient.setEditText(QStringLiteral("nobody of that name"));
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(
            in<QLabel>(form, "patient_id_fault").text().contains(QStringLiteral("nobody of that name")))
            << "no other person is taken for it";
        patient.setEditText(QString::fromStdString(before.patients.front().code));
        in<QPushButton>(form, "formSave").click();
    });
    find<QPushButton>("incidentReport").click();
    ASSERT_TRUE(settled());
    ASSERT_EQ(session_.agency()->snapshot().incidents.size(), before.incidents.size() + 1);
    const Incident kept =
        *std::ranges::max_element(session_.agency()->snapshot().incidents, {}, &Incident::id);
    const auto now = [&] {
        return *std::ranges::find(session_.agency()->snapshot().incidents, kept.id, &Incident::id);
    };
    EXPECT_EQ(kept.lot, lot->id);
    EXPECT_EQ(kept.patient, before.patients.front().id) << "found by the number";
    EXPECT_EQ(kept.reportDueOn, Date::of(2026, 12, 4)) << "proposed: ten work days, Thanksgiving left out";
    auto &table = find<DenseTable>("incidentTable");
    EXPECT_EQ(table.currentSourceRow(), 1) << "after the one whose report is due first";
    EXPECT_EQ(find<QLabel>("incidentFacts").text(), QStringLiteral("No vacuum; the patient fainted."));
    EXPECT_TRUE(find<QLabel>("incidentSteps").text().contains(QStringLiteral("do not throw it away")));
    EXPECT_GE(find<DenseTable>("incidentTimeline").model()->rowCount(), 3);
    picture(*page_, "incidents");

    Ask::nextAnswer(true);
    find<QPushButton>("incidentAside").click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().lot(lot->id)->state, LotState::Quarantined);
    EXPECT_FALSE(find<QPushButton>("incidentAside").isEnabled());

    find<QPushButton>("incidentClose").click();
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Tell the prescriber"))) << "asked, and declined";
    EXPECT_FALSE(now().closedOn.has_value());
    Ask::nextAnswer(true);
    withNextDialog([&](QWidget &form) {
        in<QPlainTextEdit>(form, "outcome").setPlainText(QStringLiteral("The supplier took the lot back."));
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "the report is not made yet";
        in<QWidget>(form, "reported_on").findChild<QLineEdit *>()->setText(QStringLiteral("today"));
        in<QPushButton>(form, "formSave").click();
    });
    find<QPushButton>("incidentClose").click();
    ASSERT_TRUE(settled());
    EXPECT_TRUE(now().closedOn.has_value());
    EXPECT_EQ(text(*table.model(), table.currentIndex().row(), 0), QStringLiteral("closed"))
        << "it stays the chosen one where it now stands";
    Ask::nextAnswer(true);
    find<QPushButton>("incidentClose").click();
    ASSERT_TRUE(settled());
    EXPECT_FALSE(now().closedOn.has_value()) << "open again";
}

} // namespace
} // namespace kitround::ui
