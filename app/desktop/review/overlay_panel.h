// Passes laid over each other, of all open logs, from the throttle's start, over time or distance; the plan's
// prediction as one more trace. core/review/README.md.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QWidget>

class QCheckBox;
class QComboBox;
class QListWidget;

namespace rw {

class Chart;

class OverlayPanel : public QWidget {
    Q_OBJECT
public:
    explicit OverlayPanel(ReviewDesk& review, QWidget* parent = nullptr);
    [[nodiscard]] Chart& chart() { return *chart_; }
    [[nodiscard]] QListWidget& passes() { return *passes_; }
    [[nodiscard]] QComboBox& quantity() { return *quantity_; }
    [[nodiscard]] QComboBox& over() { return *over_; }

protected:
    void showEvent(QShowEvent* event) override;

private:
    void fillPasses();
    void fillQuantities();
    void draw();

    ReviewDesk& review_;
    QListWidget* passes_;
    QComboBox *quantity_, *over_;
    QCheckBox* plan_;
    Chart* chart_;
    bool stale_ = true; // the list of passes is filled when it is looked at
};

} // namespace rw
