#pragma once
// The what-if for the service level: a slider, and before beside after. Nothing is stored until "Use this
// level".
#include "core/desk/views/LevelWhatIf.h"

#include <QDialog>

#include <array>

class QComboBox;
class QDoubleSpinBox;
class QLabel;
class QPushButton;
class QSlider;
class QVBoxLayout;

namespace kitround::ui {

class Session;

class LevelDialog : public QDialog {
    Q_OBJECT
public:
    // Opens on the item; its class is the other choice.
    LevelDialog(Session &session, ItemId item, QWidget *parent);

private:
    void build();
    void addFields(QVBoxLayout &layout);
    void addFigures(QVBoxLayout &layout);
    void workOut(); // in the background, for the present picture
    void worked(desk::LevelWhatIfPtr whatIf);
    void scopeChosen();
    void levelMoved(std::int64_t permille);
    void showEffect();
    void store();
    desk::LevelScope scope() const;

    Session &session_;
    const ItemId item_;
    desk::LevelWhatIfPtr whatIf_;
    std::int64_t level_ = 0; // thousandths
    QComboBox *scope_;
    QSlider *slider_;
    QDoubleSpinBox *spin_;
    using Cells = std::array<QLabel *, 7>;
    Cells now_{}, then_{};
    QLabel *note_;
    QPushButton *use_;
};

} // namespace kitround::ui
