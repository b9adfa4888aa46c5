// What was logged: the lanes of the log in view, with a choice of what to see; passes over each other.
#pragma once

#include "app/desktop/review/review_desk.h"
#include "plotting/lanes.h"

#include <QWidget>

#include <utility>
#include <vector>

class QCheckBox;
class QComboBox;
class QListWidget;
class QMenu;

namespace rw {

class Chart;
class TextLabel;

class LanesPanel : public QWidget {
    Q_OBJECT
public:
    explicit LanesPanel(ReviewDesk& review);

    [[nodiscard]] LanesView& view() { return *lanes_; }
    [[nodiscard]] QMenu* chooser() { return chooser_; } // which lanes are shown
    // Keys of hidden quantities, for the layout that is remembered.
    [[nodiscard]] QStringList hiddenKeys() const;
    void setHiddenKeys(const QStringList& keys);

private:
    void refresh();
    void fillChooser();

    ReviewDesk& review_;
    LanesView* lanes_;
    QMenu* chooser_;
    std::vector<Quantity> hidden_;
};

// Passes laid over each other, of all open logs, from the throttle's start, over time or distance; the plan's
// prediction as one more trace. core/review/README.md.
class OverlayPanel : public QWidget {
    Q_OBJECT
public:
    explicit OverlayPanel(ReviewDesk& review);
    [[nodiscard]] Chart& chart() { return *chart_; }
    [[nodiscard]] QListWidget& passes() { return *passes_; }
    [[nodiscard]] QComboBox& quantity() { return *quantity_; }
    [[nodiscard]] QComboBox& over() { return *over_; }

protected:
    void showEvent(QShowEvent* event) override;

private:
    void fillPasses();
    void noteTicks();
    void addPasses(const ReviewData& log, bool several);
    [[nodiscard]] bool ticked(int log, std::size_t pass) const;
    void fillQuantities();
    void draw();

    ReviewDesk& review_;
    QListWidget* passes_;
    QComboBox *quantity_, *over_;
    QCheckBox* plan_;
    Chart* chart_;
    bool stale_ = true;                       // the list of passes is filled when it is looked at
    std::vector<std::pair<int, int>> chosen_; // log and pass, as ticked
    int shown_ = 0;                           // the log that was in hand when it was filled
};

} // namespace rw
