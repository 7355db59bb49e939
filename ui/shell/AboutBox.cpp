#include "ui/shell/AboutBox.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QCoreApplication>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

QString text() {
    const QStringList parts = {
        QObject::tr("<h3>Kitround %1</h3>").arg(QCoreApplication::applicationVersion()),
        QObject::tr(
            "<p>Plans visits and supplies together for a home-infusion agency whose patients drain fluid at "
            "home through a tunneled catheter in the chest or abdomen.</p>"),
        QStringLiteral("<p><b>%1</b></p>").arg(desk::planningCaution()),
        QObject::tr(
            "<h4>When to call</h4><ul>"
            "<li>Worsening or sudden breathlessness, severe chest or belly pain, collapse, heavy bleeding: "
            "the local emergency number first, then the nurse.</li>"
            "<li>New blood or a marked change of colour; the tube moved, came out, was cut or cracked: the "
            "nurse at once.</li>"
            "<li>Fever or chills, redness, swelling, pus or smell at the site, cloudy fluid; a leak or wet "
            "dressing: the nurse the same day.</li>"
            "<li>No flow when fluid is expected, or a sudden fall to none: the nurse. It is not taken for a "
            "taper until a nurse confirms it.</li>"
            "<li>Pain, cough or feeling faint during a drain: stop as taught and call the nurse.</li>"
            "<li>A torn, expired or recalled pack, or a bottle without vacuum: do not use it, keep it with "
            "its label, tell supply.</li></ul>"
            "<p>(common practice; the prescriber and local policy come first)</p>"),
        QObject::tr(
            "<h4>What it never does</h4><p>It never suggests a change of a prescribed frequency or volume, "
            "never ships without a confirmed need, and never takes silence for a missed drain. The "
            "prescriber's maximum comes first; 1000 mL (chest) and 2000 mL (abdomen) a session are only "
            "warnings where an order says nothing (common practice).</p>"),
        QObject::tr("<h4>Built with</h4><p>Qt 6 (LGPL), SQLite (public domain), Boost (BSL-1.0).</p>"),
    };
    return parts.join(QString());
}

} // namespace

AboutBox::AboutBox(QWidget *parent) : QDialog(parent) {
    setObjectName(QStringLiteral("aboutBox"));
    setWindowTitle(tr("About Kitround and its cautions"));
    resize(640, 600);
    auto *layout = new QVBoxLayout(this);
    auto *area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    auto *label = new QLabel(text(), area);
    label->setTextFormat(Qt::RichText);
    label->setWordWrap(true);
    label->setAlignment(Qt::AlignTop);
    label->setContentsMargins(Look::kPage, 0, Look::kPage, 0);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    area->setWidget(label);
    layout->addWidget(area, 1);
    auto *close = new QPushButton(tr("Close"), this);
    close->setDefault(true);
    layout->addWidget(close, 0, Qt::AlignRight);
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
}

} // namespace kitround::ui
