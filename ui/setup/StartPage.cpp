#include "ui/setup/StartPage.h"

#include "ui/shared/Look.h"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {

StartPage::StartPage(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("startPage"));
    auto *layout = new QVBoxLayout(this);
    layout->setSpacing(Look::kBetween);
    layout->addStretch(2);
    auto *sign = new QLabel(this);
    sign->setPixmap(Look::icon(QStringLiteral("kitround"), Role::Accent).pixmap(60, 60));
    sign->setAlignment(Qt::AlignCenter);
    layout->addWidget(sign);
    auto *name = new QLabel(tr("Kitround"), this);
    name->setFont(Look::titleFont());
    name->setAlignment(Qt::AlignCenter);
    layout->addWidget(name);
    auto *what =
        new QLabel(tr("Plans the week's visits and the homes' supplies together, for people who drain at "
                      "home through a tunneled catheter."),
                   this);
    what->setWordWrap(true);
    what->setAlignment(Qt::AlignCenter);
    what->setFixedWidth(460);
    what->setMinimumHeight(what->heightForWidth(460));
    layout->addWidget(what, 0, Qt::AlignHCenter);
    layout->addSpacing(Look::kPage);

    const auto step = [&](const QString &objectName, const QString &text, const QString &detail,
                          auto signal) {
        auto *button = new QPushButton(text, this);
        button->setObjectName(objectName);
        button->setFixedWidth(320);
        button->setMinimumHeight(40);
        button->setAutoDefault(true);
        button->setAccessibleDescription(detail);
        layout->addWidget(button, 0, Qt::AlignHCenter);
        auto *note = new QLabel(detail, this);
        note->setFont(Look::smallFont());
        note->setAlignment(Qt::AlignCenter);
        layout->addWidget(note);
        layout->addSpacing(4);
        connect(button, &QPushButton::clicked, this, signal);
        return button;
    };
    auto *open = step(QStringLiteral("startOpen"), tr("Open an agency file"),
                      tr("A file made with Kitround before."), &StartPage::openAsked);
    open->setProperty("isMain", true);
    step(QStringLiteral("startNew"), tr("Set up a new agency"),
         tr("Four short pages; then bring in your own lists (File menu)."), &StartPage::newAsked);
    step(QStringLiteral("startSample"), tr("Try the sample agency"),
         tr("Invented people and places; nothing in it is real."), &StartPage::sampleAsked);
    busy_ = new QLabel(this);
    busy_->setObjectName(QStringLiteral("startBusy"));
    busy_->setAlignment(Qt::AlignCenter);
    layout->addWidget(busy_);
    layout->addStretch(3);
}

void StartPage::setBusy(const QString &text) {
    busy_->setText(text);
    for (QPushButton *button : findChildren<QPushButton *>())
        button->setEnabled(text.isEmpty());
}

} // namespace kitround::ui
