#pragma once
// Tabs in groups: nobody finds one of so many side by side. What waits is counted in a tab's title, and the
// sum of its tabs in a group's.
#include <QHash>
#include <QString>
#include <QTabWidget>

#include <initializer_list>
#include <vector>

namespace kitround::ui {

class TabGroups : public QTabWidget {
    Q_OBJECT
public:
    explicit TabGroups(const QString &objectName, QWidget *parent = nullptr);
    QTabWidget *addGroup(const QString &objectName, const QString &title);
    void bringUp(QWidget *tab);
    bool isUp(const QWidget *tab) const;
    void setCounted(QWidget *tab, const QString &title, int count);
    void enableAll();
    // Those, and the groups that hold one of them.
    void enableOnly(std::initializer_list<const QWidget *> tabs);

private:
    struct Group {
        QTabWidget *tabs;
        QString title;
    };
    QTabWidget *groupOf(const QWidget *tab) const;

    std::vector<Group> groups_;
    QHash<const QWidget *, int> waiting_;
};

} // namespace kitround::ui
