#pragma once
// How the plan stands, in one line of several parts. Only a part that has to be acted on is red: among ten
// figures in red nobody finds the one that is meant.
#include "ui/shared/ElidedLabel.h"

#include <vector>

namespace kitround::ui {

class StatusLine : public ElidedLabel {
    Q_OBJECT
public:
    using ElidedLabel::ElidedLabel;
    struct Part {
        QString text;
        bool isAlarm = false;
    };
    void setParts(const std::vector<Part> &parts, const QString &between);
    const std::vector<Part> &parts() const { return parts_; }

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    std::vector<Part> parts_; // those between among them
    QString whole_;           // of the parts; any other text is painted as it is
};

} // namespace kitround::ui
