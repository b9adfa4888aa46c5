// Where model and log part: one quantity over one pass and the standing after it; the log, the model dashed over it,
// below them the difference with the band of the noise. Grey where the estimate left it out.
#pragma once

#include "app/desktop/review/day_taught.h"
#include "app/desktop/shared/units.h"
#include "plotting/axis_link.h"
#include "plotting/chart.h"

#include <QWidget>

class QComboBox;

namespace rw {

struct ResidualCharts {
    ChartContent over, below;
};
// Pure. trace: one of the report's.
[[nodiscard]] ResidualCharts residualCharts(const DayTaught& day, const LearnTrace& trace, const Units& units);

class ResidualView : public QWidget {
    Q_OBJECT
public:
    explicit ResidualView(const Units& units);
    void setDay(std::shared_ptr<const DayTaught> day);
    [[nodiscard]] QComboBox& quantity() { return *quantity_; }
    [[nodiscard]] QComboBox& pass() { return *pass_; }
    [[nodiscard]] Chart& over() { return *over_; }
    [[nodiscard]] Chart& below() { return *below_; }

private:
    void draw();

    const Units& units_;
    std::shared_ptr<const DayTaught> day_;
    QComboBox *quantity_, *pass_;
    AxisLink axis_;
    Chart *over_, *below_;
};

} // namespace rw
