#include "ui/shared/Page.h"

#include "ui/shared/ElidedLabel.h"
#include "ui/shared/Look.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QStyle>
#include <QTabWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kEmptyWidth = 480;

// As wide as its words where there is room; else it goes on in a second line and is cut there, never the
// buttons beside it.
class SubtitleLabel : public ElidedLabel {
public:
    using ElidedLabel::ElidedLabel;
    QSize sizeHint() const override {
        const QSize whole = QLabel::sizeHint();
        return {whole.width(), qMax(whole.height(), minimumSizeHint().height())};
    }
};

} // namespace

Page::Page(Session &session, const QString &objectName, const QString &title, QWidget *parent)
    : QWidget(parent), session_(session) {
    setObjectName(objectName);
    setAccessibleName(title);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kBetween, Look::kPage, Look::kInside);
    layout->setSpacing(Look::kInside);

    auto *top = new QHBoxLayout;
    top->setSpacing(Look::kInside);
    auto *names = new QVBoxLayout;
    names->setSpacing(0);
    title_ = new QLabel(title, this);
    title_->setFont(Look::titleFont());
    title_->setObjectName(QStringLiteral("pageTitle"));
    auto *subtitle = new SubtitleLabel(this);
    subtitle->setMostLines(2);
    subtitle_ = subtitle;
    subtitle_->setObjectName(QStringLiteral("pageSubtitle"));
    Look::setInk(subtitle_, Role::FaintInk);
    subtitle_->hide();
    names->addWidget(title_);
    names->addWidget(subtitle_);
    top->addLayout(names);
    head_ = new QHBoxLayout;
    head_->setSpacing(Look::kInside);
    top->addSpacing(Look::kBetween);
    top->addLayout(head_, 1);
    mainActions_ = new QHBoxLayout;
    top->addLayout(mainActions_);
    layout->addLayout(top);

    empty_ = new QWidget(this);
    auto *emptyLayout = new QVBoxLayout(empty_);
    emptyText_ = new QLabel(empty_);
    emptyText_->setObjectName(QStringLiteral("emptyText"));
    emptyText_->setWordWrap(true);
    emptyText_->setAlignment(Qt::AlignCenter);
    emptyText_->setFixedWidth(kEmptyWidth);
    emptyAction_ = new QPushButton(empty_);
    emptyAction_->setObjectName(QStringLiteral("emptyAction"));
    connect(emptyAction_, &QPushButton::clicked, this, [this] {
        if (emptyLeadsTo_.isEmpty())
            Q_EMIT emptyActionAsked();
        else
            Q_EMIT showWorkplace(emptyLeadsTo_);
    });
    emptyLayout->addStretch(2);
    emptyLayout->addWidget(emptyText_, 0, Qt::AlignHCenter);
    emptyLayout->addSpacing(Look::kBetween);
    emptyLayout->addWidget(emptyAction_, 0, Qt::AlignHCenter);
    emptyLayout->addStretch(3);
    empty_->hide();
    layout->addWidget(empty_, 1);

    splitter_ = new QSplitter(Qt::Horizontal, this);
    splitter_->setChildrenCollapsible(false);
    splitter_->setHandleWidth(Look::kBetween);
    layout->addWidget(splitter_, 1);
}

QAction *Page::newPageAction(const QString &text, const QKeySequence &keys) {
    auto *action = new QAction(text, this);
    action->setShortcut(keys);
    // Of the window, so that they work with the focus in the list of pages too; a page that is not shown gets
    // none.
    action->setShortcutContext(Qt::WindowShortcut);
    addAction(action);
    actions_ << action;
    return action;
}

void Page::addTabKeys(QTabWidget &tabs) {
    constexpr int kKeys = 10; // 1 to 9, and 0 for the tenth
    for (int i = 0; i < std::min(tabs.count(), kKeys); ++i) {
        const auto key = i + 1 < kKeys ? static_cast<Qt::Key>(Qt::Key_1 + i) : Qt::Key_0;
        addPageAction(tr("Show %1").arg(tabs.tabText(i)), QKeySequence(Qt::ALT | key), this,
                      [this, i, shown = &tabs] {
                          if (!isBodyShown())
                              return;
                          shown->setCurrentIndex(i);
                          takeFocus();
                      });
    }
}

bool Page::isBodyShown() const {
    return !splitter_->isHidden();
}

QString Page::title() const {
    return title_->text();
}
void Page::setTitle(const QString &title) {
    title_->setText(title);
}
void Page::setSubtitle(const QString &text) {
    subtitle_->setText(text);
    subtitle_->setVisible(!text.isEmpty());
}

void Page::takeFocus() {
    if (body_)
        body_->setFocus(Qt::OtherFocusReason);
}

void Page::setBody(QWidget *body) {
    body_ = body;
    splitter_->insertWidget(0, body);
    splitter_->setStretchFactor(0, 1);
}

void Page::setSide(QWidget *side, int width) {
    side_ = side;
    splitter_->addWidget(side);
    splitter_->setStretchFactor(splitter_->indexOf(side), 0);
    side->setMinimumWidth(width);
    side->hide();
}

void Page::showSide(bool on) {
    if (side_)
        side_->setVisible(on);
}

QPushButton *Page::setMainAction(const QString &objectName, const QString &text) {
    auto *button = new QPushButton(text, this);
    button->setObjectName(objectName);
    button->setProperty("isMain", true);
    mainActions_->addWidget(button);
    return button;
}

void Page::showEmpty(const QString &text, const QString &action, const QString &workplace) {
    emptyLeadsTo_ = workplace;
    emptyText_->setText(text);
    // A centred label is not asked how tall its wrapped text is.
    if (!text.isEmpty()) // it has no height for no text
        emptyText_->setMinimumHeight(emptyText_->heightForWidth(kEmptyWidth));
    emptyAction_->setText(action);
    emptyAction_->setVisible(!action.isEmpty());
    empty_->setVisible(!text.isEmpty());
    splitter_->setVisible(text.isEmpty());
}

} // namespace kitround::ui
