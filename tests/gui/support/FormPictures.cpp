#include "tests/gui/support/FormPictures.h"

#include "ui/shared/DenseTable.h"
#include "ui/shell/MainWindow.h"

#include <QAbstractItemView>
#include <QApplication>
#include <QComboBox>
#include <QDialog>
#include <QListWidget>
#include <QPointer>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QSet>
#include <QStackedWidget>
#include <QTabWidget>
#include <QTest>
#include <QTimer>

#include <algorithm>
#include <cstdio>

namespace kitround::ui {
namespace {

QString plainName(QString text) {
    QString name;
    for (const QChar letter : text.remove(QLatin1Char('&')))
        if (letter.isLetterOrNumber())
            name += letter.toLower();
        else if (!name.endsWith(QLatin1Char('-')))
            name += QLatin1Char('-');
    while (name.endsWith(QLatin1Char('-')))
        name.chop(1);
    return name;
}

// A main action that does its work at once has no form to draw.
bool worksAtOnce(const QPushButton &button) {
    return button.objectName() == QStringLiteral("reorderMain") ||
           button.objectName() == QStringLiteral("planWeek");
}

bool opensAForm(const QPushButton &button) {
    return button.isVisible() && button.isEnabled() && !worksAtOnce(button) &&
           (button.text().endsWith(QChar(0x2026)) || button.property("isMain").toBool());
}

// What is pressed may take others away, and itself.
template <class Widget>
QList<QPointer<Widget>> watched(const QWidget &within) {
    QList<QPointer<Widget>> found;
    for (Widget *widget : within.findChildren<Widget *>())
        found << widget;
    return found;
}

class FormDrawer {
public:
    FormDrawer(MainWindow &window, const QDir &folder, QString suffix)
        : window_(window), folder_(folder), suffix_(std::move(suffix)) {}

    void drawPage(const QString &page) {
        window_.showPage(page);
        QTest::qWait(60);
        auto *stack = window_.findChild<QListWidget *>(QStringLiteral("workplaces"));
        page_ = page;
        row_ = stack->currentRow();
        pressAll(window_);
        drawTabsOf(window_);
    }

private:
    void drawTabsOf(QWidget &within) {
        for (const QPointer<QTabWidget> &tabs : watched<QTabWidget>(within)) {
            if (!tabs || !tabs->isVisible())
                continue;
            for (int i = 0; tabs && i < tabs->count(); ++i) {
                tabs->setCurrentIndex(i);
                QTest::qWait(40);
                pressAll(window_); // a button beside the tabs may mean the tab
                if (tabs)
                    drawTabsOf(*tabs->currentWidget());
            }
            if (tabs)
                tabs->setCurrentIndex(0);
            return;
        }
    }

    void pressAll(QWidget &within) {
        for (auto *table : within.findChildren<DenseTable *>()) // what is edited is the chosen row
            if (table->isVisible() && table->currentSourceRow() < 0 && table->model() &&
                table->model()->rowCount() > 0)
                table->setCurrentIndex(table->model()->index(0, 0));
        for (const QPointer<QPushButton> &button : watched<QPushButton>(within)) {
            if (button && button->window() == &window_ && opensAForm(*button))
                press(*button);
            if (window_.findChild<QListWidget *>(QStringLiteral("workplaces"))->currentRow() != row_)
                window_.showPage(page_);
        }
    }

    void press(QPushButton &button) {
        QTimer watch;
        QObject::connect(&watch, &QTimer::timeout, &watch, [this, &watch, pressed = button.objectName()] {
            const QPointer<QWidget> form = QApplication::activeModalWidget();
            if (!form || !form->isVisible())
                return;
            watch.stop();
            const QString name =
                plainName(QStringLiteral("form %1 %2 %3").arg(page_, pressed, form->windowTitle()));
            if (!drawn_.contains(name)) {
                drawn_.insert(name);
                drawForm(*form, name);
            }
            if (auto *dialog = qobject_cast<QDialog *>(form.data()))
                dialog->done(QDialog::Rejected);
            else if (form)
                form->close();
            watch.start(10); // another may follow it
        });
        watch.start(10);
        button.click();
        QTest::qWait(20);
    }

    void drawForm(QWidget &form, const QString &name) {
        QTest::qWait(60);
        drawDown(form, name);
        for (QTabWidget *tabs : form.findChildren<QTabWidget *>()) {
            for (int i = 1; tabs->isVisible() && i < tabs->count(); ++i) {
                tabs->setCurrentIndex(i);
                QTest::qWait(40);
                drawDown(form, name + QStringLiteral("-tab%1").arg(i));
            }
            if (tabs->isVisible() && tabs->count() > 1)
                tabs->setCurrentIndex(0);
        }
        drawFirstList(form, name);
    }

    // With what only scrolling shows.
    void drawDown(QWidget &form, const QString &name) {
        save(form, name);
        for (QScrollArea *area : form.findChildren<QScrollArea *>())
            if (area->isVisible() && area->verticalScrollBar()->maximum() > 0) {
                area->verticalScrollBar()->setValue(area->verticalScrollBar()->maximum());
                QTest::qWait(20);
                save(form, name + QStringLiteral("-below"));
            }
    }

    void drawFirstList(QWidget &form, const QString &name) {
        const QList<QComboBox *> boxes = form.findChildren<QComboBox *>();
        const auto box = std::ranges::find_if(boxes, [](const QComboBox *b) {
            return b->isVisible() && b->isEnabled() && b->count() > 1 && !b->isEditable();
        });
        if (box == boxes.end())
            return;
        (*box)->setFocus();
        (*box)->showPopup();
        QTest::qWait(60);
        save(form, name + QStringLiteral("-focus"));
        save(*(*box)->view()->window(), name + QStringLiteral("-list"));
        (*box)->hidePopup();
    }

    void save(QWidget &shown, const QString &name) { shown.grab().save(folder_.filePath(name + suffix_)); }

    MainWindow &window_;
    QDir folder_;
    QString suffix_;
    QString page_;
    int row_ = 0;
    QSet<QString> drawn_;
};

} // namespace

void drawForms(MainWindow &window, const QDir &folder, const QString &suffix) {
    FormDrawer drawer(window, folder, suffix);
    for (const char *page :
         {"today", "calendar", "stock", "reorders", "load", "patients", "nurses", "catalogue", "settings"})
        drawer.drawPage(QString::fromLatin1(page));
}

} // namespace kitround::ui
