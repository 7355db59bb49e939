#include "ui/load/TabGroups.h"

#include <algorithm>

namespace kitround::ui {
namespace {

QString countedTitle(const QString &text, int count) {
    return count > 0 ? QObject::tr("%1 (%2)").arg(text).arg(count) : text;
}

} // namespace

TabGroups::TabGroups(const QString &objectName, QWidget *parent) : QTabWidget(parent) {
    setObjectName(objectName);
    setDocumentMode(true);
}

QTabWidget *TabGroups::addGroup(const QString &objectName, const QString &title) {
    auto *tabs = new QTabWidget(this);
    tabs->setObjectName(objectName);
    tabs->setDocumentMode(true);
    addTab(tabs, title);
    groups_.push_back({tabs, title});
    return tabs;
}

QTabWidget *TabGroups::groupOf(const QWidget *tab) const {
    for (const Group &group : groups_)
        if (group.tabs->indexOf(tab) >= 0)
            return group.tabs;
    return nullptr;
}

void TabGroups::bringUp(QWidget *tab) {
    QTabWidget *group = groupOf(tab);
    group->setCurrentWidget(tab);
    setCurrentWidget(group);
}

bool TabGroups::isUp(const QWidget *tab) const {
    const QTabWidget *group = groupOf(tab);
    return currentWidget() == group && group->currentWidget() == tab;
}

void TabGroups::setCounted(QWidget *tab, const QString &title, int count) {
    QTabWidget *of = groupOf(tab);
    of->setTabText(of->indexOf(tab), countedTitle(title, count));
    waiting_[tab] = count;
    for (const Group &group : groups_) {
        int sum = 0;
        for (int i = 0; i < group.tabs->count(); ++i)
            sum += waiting_.value(group.tabs->widget(i));
        setTabText(indexOf(group.tabs), countedTitle(group.title, sum));
    }
}

void TabGroups::enableAll() {
    for (const Group &group : groups_) {
        for (int i = 0; i < group.tabs->count(); ++i)
            group.tabs->setTabEnabled(i, true);
        setTabEnabled(indexOf(group.tabs), true);
    }
}

void TabGroups::enableOnly(std::initializer_list<const QWidget *> tabs) {
    for (const Group &group : groups_) {
        bool hasAny = false;
        for (int i = 0; i < group.tabs->count(); ++i) {
            const bool isOne = std::ranges::find(tabs, group.tabs->widget(i)) != tabs.end();
            group.tabs->setTabEnabled(i, isOne);
            hasAny = hasAny || isOne;
        }
        setTabEnabled(indexOf(group.tabs), hasAny);
    }
}

} // namespace kitround::ui
