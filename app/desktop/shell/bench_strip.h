// The strip at the top: where we are, which setup is on the bench, its target and what is expected of it.
#pragma once

#include <QList>
#include <QPair>
#include <QString>
#include <QWidget>

class QButtonGroup;
class QHBoxLayout;
class QMenu;
class QToolButton;

namespace rw {

class Bench;
class FigureLabel;
class ShortLabel;
class Units;

class BenchStrip : public QWidget {
    Q_OBJECT
public:
    BenchStrip(Bench& bench, Units& units, QWidget* parent = nullptr);

    // Name and title of each workspace, in order.
    void setPlaces(const QList<QPair<QString, QString>>& places);
    void setCurrent(const QString& name);

protected:
    void resizeEvent(QResizeEvent* event) override;

signals:
    void chosen(const QString& name);

private:
    struct Figure {
        QWidget* box = nullptr;
        FigureLabel* value = nullptr;
    };
    void showSetup();
    void showFigures();

    Bench& bench_;
    Units& units_;
    QHBoxLayout* placesLayout_ = nullptr;
    QButtonGroup* places_ = nullptr;
    ShortLabel* setup_ = nullptr;
    Figure target_, expected_, chance_;
    QToolButton* unitButton_ = nullptr;
    bool compact_ = false; // too narrow for everything: the range and the chance stand in the tool tip
};

// The unit switch as actions: one set for the menu bar, another for the button on the bench strip.
// Adds the four choices to a menu; they follow the switch from wherever it is turned.
void addUnitChoices(QMenu& menu, Units& units);

} // namespace rw
