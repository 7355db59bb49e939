#pragma once
// Two parts that lie side by side where there is width for it, and one under the other where there is not;
// how they were divided by hand is kept, for each way by itself.
#include <QSplitter>

namespace kitround::ui {

// Kept on this machine under the splitter's name; at first as it is divided now.
void keepDivision(QSplitter &splitter, const QString &name);

class RoomSplitter : public QSplitter {
    Q_OBJECT
public:
    RoomSplitter(const QString &name, int besideFrom, QWidget *parent);

protected:
    void resizeEvent(QResizeEvent *event) override;

private:
    QString key() const;
    void arrange();

    const QString name_;
    const int besideFrom_; // width
    bool isArranged_ = false;
};

} // namespace kitround::ui
