#include "ui/shell/HelpWindow.h"

#include "core/desk/words/HelpWords.h"
#include "ui/shared/Look.h"

#include <QHBoxLayout>
#include <QKeySequence>
#include <QListWidget>
#include <QPushButton>
#include <QTextBrowser>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kTopicWidth = 280;

QString topicHtml(const desk::HelpTopic &topic) {
    QString html = QStringLiteral("<h3>%1</h3><ol>").arg(topic.title.toHtmlEscaped());
    for (const desk::HelpStep &step : topic.steps) {
        html += QStringLiteral("<li style=\"margin-bottom: 8px\">") + step.text.toHtmlEscaped();
        if (!step.keys.isEmpty())
            html += QStringLiteral(" <b>(%1)</b>")
                        .arg(QKeySequence(step.keys, QKeySequence::PortableText)
                                 .toString(QKeySequence::NativeText)
                                 .toHtmlEscaped());
        html += QStringLiteral("</li>");
    }
    return html + QStringLiteral("</ol>");
}

} // namespace

HelpWindow::HelpWindow(QWidget *parent) : QDialog(parent) {
    setObjectName(QStringLiteral("helpWindow"));
    setWindowTitle(tr("How the week goes"));
    resize(860, 520);
    auto *layout = new QVBoxLayout(this);
    auto *row = new QHBoxLayout;
    layout->addLayout(row, 1);
    topics_ = new QListWidget(this);
    topics_->setObjectName(QStringLiteral("helpTopics"));
    topics_->setAccessibleName(tr("What it is about"));
    topics_->setFixedWidth(kTopicWidth);
    topics_->setWordWrap(true);
    for (const desk::HelpTopic &topic : desk::helpTopics()) {
        auto *item = new QListWidgetItem(topic.title, topics_);
        item->setData(Qt::UserRole, topic.page);
    }
    row->addWidget(topics_);
    text_ = new QTextBrowser(this);
    text_->setObjectName(QStringLiteral("helpText"));
    text_->setAccessibleName(tr("The steps"));
    row->addWidget(text_, 1);
    auto *close = new QPushButton(tr("Close"), this);
    close->setObjectName(QStringLiteral("helpClose"));
    layout->addWidget(close, 0, Qt::AlignRight);
    connect(close, &QPushButton::clicked, this, &QDialog::close);
    connect(topics_, &QListWidget::currentRowChanged, this, &HelpWindow::showTopic);
    topics_->setCurrentRow(0);
}

void HelpWindow::showTopicOf(const QString &page) {
    int found = 0;
    for (int i = 0; i < topics_->count() && !page.isEmpty(); ++i)
        if (topics_->item(i)->data(Qt::UserRole).toString() == page)
            found = i;
    topics_->setCurrentRow(found);
    topics_->setFocus(Qt::OtherFocusReason);
}

void HelpWindow::showTopic(int row) {
    const std::vector<desk::HelpTopic> topics = desk::helpTopics();
    if (row >= 0 && row < static_cast<int>(topics.size()))
        text_->setHtml(topicHtml(topics[static_cast<std::size_t>(row)]));
}

} // namespace kitround::ui
