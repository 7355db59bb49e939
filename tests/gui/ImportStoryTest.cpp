// A list from a spreadsheet through the window: faults beside their rows, nothing written before the step
// that says so, and afterwards what was added and where the copy is.
#include "tests/gui/WindowFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"

#include <QAction>
#include <QComboBox>
#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QLabel>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {
namespace {

const QByteArray kItemHead = "code,name,kind,bottle_volume_ml,connector,eaches_per_case\n";

class ImportStory : public WindowTest {
protected:
    QString listFile(const char *name, const QByteArray &bytes) {
        QFile file(path(name));
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bytes);
        return file.fileName();
    }
    static QPushButton &button(QWidget &dialog, const char *name) {
        auto *found = dialog.findChild<QPushButton *>(QString::fromLatin1(name));
        EXPECT_NE(found, nullptr) << name;
        return *found;
    }
    static QString state(QWidget &dialog) {
        return dialog.findChild<QLabel *>(QStringLiteral("importState"))->text();
    }
    static DenseTable &table(QWidget &dialog) {
        return *dialog.findChild<DenseTable *>(QStringLiteral("importTable"));
    }
    // Opens the dialog on a list of items and waits until its rows are shown.
    static void openList(QWidget &dialog, const QString &file) {
        Ask::nextText(file);
        button(dialog, "importOpen").click();
        EXPECT_TRUE(waitFor([&] { return button(dialog, "importOpen").isEnabled(); }))
            << state(dialog).toStdString();
    }
    void inDialog(const std::function<void(QWidget &)> &drive) {
        withNextForm([&](QWidget &dialog) {
            EXPECT_EQ(dialog.objectName(), QStringLiteral("importDialog"));
            drive(dialog);
            leave(dialog);
        });
        auto *action = window_->findChild<QAction *>(QStringLiteral("actionImport"));
        ASSERT_NE(action, nullptr);
        action->trigger();
    }
    bool isOnRecord(const std::string &code) {
        return std::ranges::find(session().agency()->snapshot().items, code, &Item::code) !=
               session().agency()->snapshot().items.end();
    }
};

TEST_F(ImportStory, AGoodListGoesInAndSaysWhatComesNext) {
    openSample();
    const QString file = listFile("items.csv", kItemHead + "KIT-NEW,New kit,kit,500,any,10\n");
    inDialog([&](QWidget &dialog) {
        EXPECT_FALSE(button(dialog, "importDo").isEnabled()) << "nothing is open";
        openList(dialog, file);
        ASSERT_EQ(table(dialog).model()->rowCount(), 1);
        EXPECT_EQ(table(dialog).model()->index(0, 1).data().toString(), QStringLiteral("good"));
        EXPECT_TRUE(button(dialog, "importDo").text().contains(QStringLiteral("1 row")));
        EXPECT_TRUE(dialog.findChild<QLabel *>(QStringLiteral("importTableWhole"))
                        ->text()
                        .startsWith(QStringLiteral("Goes in: ")))
            << "whole under the table, however narrow its column";
        QTest::keyClick(&table(dialog), Qt::Key_Return);
        EXPECT_FALSE(state(dialog).contains(QStringLiteral("Added"))) << "Enter in the table writes nothing";
        button(dialog, "importDo").click();
        EXPECT_TRUE(waitFor([&] { return state(dialog).contains(QStringLiteral("Added: 1 item.")); }))
            << state(dialog).toStdString() << Ask::lastSaid().toStdString();
        EXPECT_TRUE(state(dialog).contains(QStringLiteral("Next: "))) << state(dialog).toStdString();
        EXPECT_FALSE(button(dialog, "importDo").isEnabled()) << "once is enough";
    });
    waitComputed();
    EXPECT_TRUE(isOnRecord("KIT-NEW"));
    EXPECT_TRUE(session().lastWritten().contains(QStringLiteral("1 item")));
    EXPECT_TRUE(QFileInfo::exists(path("copy-before-import-2026-11-19.kitround"))) << "the way back";
}

TEST_F(ImportStory, AFaultIsMarkedByItsRowAndNothingGoesIn) {
    openSample();
    const std::uint64_t writes = session().desk().writeCount();
    const QString file = listFile("items.csv", kItemHead + "KIT-NEW,New kit,kit,500,any,10\n"
                                                           "KIT-BAD,Bad kit,pot,500,any,ten\n");
    inDialog([&](QWidget &dialog) {
        openList(dialog, file);
        ASSERT_EQ(table(dialog).model()->rowCount(), 2);
        EXPECT_FALSE(button(dialog, "importDo").isEnabled());
        EXPECT_TRUE(state(dialog).contains(QStringLiteral("1 good, 1 with a fault")))
            << state(dialog).toStdString();
        const auto *model = table(dialog).model();
        EXPECT_EQ(model->index(1, 0).data().toString(), QStringLiteral("3"));
        EXPECT_EQ(model->index(1, 1).data().toString(), QStringLiteral("fault"));
        const QString todo = model->index(1, 3).data().toString();
        EXPECT_TRUE(todo.contains(QStringLiteral("(eaches_per_case)"))) << todo.toStdString();
        EXPECT_TRUE(todo.contains(QStringLiteral("Choose one of: kit, bottle"))) << todo.toStdString();
        EXPECT_EQ(table(dialog).currentSourceRow(), 1) << "the first fault is looked at first";
        EXPECT_TRUE(dialog.findChild<QLabel *>(QStringLiteral("importTableWhole"))->text().contains(u'\n'))
            << "each fault on a line of its own";
        button(dialog, "importDo").click();
        QTest::keyClick(&dialog, Qt::Key_Escape);
        EXPECT_FALSE(dialog.isVisible());
    });
    EXPECT_EQ(session().desk().writeCount(), writes);
    EXPECT_FALSE(isOnRecord("KIT-NEW"));
    EXPECT_TRUE(QDir(dir_->path()).entryList({QStringLiteral("*before-import*")}).isEmpty());
}

TEST_F(ImportStory, AnEmptyListIsSavedWithTheNamesAndTheKindDecidesThem) {
    openSample();
    inDialog([&](QWidget &dialog) {
        auto *kind = dialog.findChild<QComboBox *>(QStringLiteral("importKind"));
        ASSERT_NE(kind, nullptr);
        kind->setCurrentIndex(kind->findText(QStringLiteral("Patients")));
        EXPECT_TRUE(dialog.findChild<QLabel *>(QStringLiteral("importColumns"))
                        ->text()
                        .contains(QStringLiteral("family_name")));
        button(dialog, "importWords").click();
        for (const char *line :
             {"site: chest, abdomen", "weekdays: sunday, monday",
              "patient_competence, caregiver_competence: none, shown", "yes, no", "mon, tue"})
            EXPECT_TRUE(Ask::lastSaid().contains(QString::fromLatin1(line))) << line << "\n"
                                                                             << Ask::lastSaid().toStdString();
        Ask::nextText(path("patients.csv"));
        button(dialog, "importEmpty").click();
        EXPECT_TRUE(state(dialog).contains(QStringLiteral("patients.csv"))) << state(dialog).toStdString();
        openList(dialog, path("patients.csv"));
        EXPECT_TRUE(state(dialog).contains(QStringLiteral("Fill in one row"))) << state(dialog).toStdString();
        openList(dialog, path("none.csv"));
        EXPECT_TRUE(state(dialog).contains(QStringLiteral("not found"))) << state(dialog).toStdString();
    });
    QFile file(path("patients.csv"));
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_TRUE(file.readAll().contains("code,family_name"));
}

} // namespace
} // namespace kitround::ui
