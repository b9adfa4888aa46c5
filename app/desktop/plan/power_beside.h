// What stands beside the table of powers: the card of the picked row, and the trade-off as a picture.
#pragma once

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/units.h"
#include "core/choose/choose_power.h"
#include "plotting/chart.h"

#include <QWidget>

#include <functional>
#include <vector>

class QPushButton;

namespace rw {

class TextLabel;

class PowerCard : public QWidget {
    Q_OBJECT
public:
    PowerCard();
    // No row: what to do instead.
    void show(const ChooseRow* row, const QString& name, const PlanSession& session);
    [[nodiscard]] QString text() const;

signals:
    void putWanted();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    TextLabel *head_ = nullptr, *words_ = nullptr;
    QPushButton* put_ = nullptr;
};

// The same motor, controller, pack and gears.
[[nodiscard]] bool sameParts(const PlanInput& a, const PlanInput& b);

// The trade-off of the power table as a chart: zone speed across, what is left of the tightest limit up, the unbeaten
// rows joined and named, the bench's own and the picked one ringed.
struct PowerPicture {
    ChartContent content;
    std::vector<std::vector<std::size_t>> rows; // of the first series: the rows of their points
};

// picked: null for none. There is a row at least.
[[nodiscard]] PowerPicture powerPicture(const ChooseResult& result,
                                        const std::function<QString(const ChooseRow&)>& name, const PlanInput& bench,
                                        const ChooseRow* picked, const Units& units);

} // namespace rw
