// What the labels so far foretell: zone speed with its band and earlier states, chance of the target, the three
// tightest limits, what could not be judged, and the three measurements that would narrow the band most.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/labels.h"
#include "core/plan/spread.h"

#include <QString>
#include <QWidget>

#include <array>
#include <memory>
#include <optional>
#include <vector>

class QVBoxLayout;

namespace rw {

class FigureLabel;
class ShortLabel;
class TextLabel;

// Bands on one axis of speed, one line each: pale as it is now or was, solid as it would be, a tick, the target dotted.
// Shared by every line of a page, so that bands compare. In the unit shown.
struct BandAxis {
    double low = 0.0, high = 1.0;
    std::optional<double> target;
};

struct BandLine {
    std::optional<double> paleLow, paleHigh;
    std::optional<double> low, high; // solid
    std::optional<double> tick;
    QString label; // at the right end
};

class SpeedBands : public QWidget {
    Q_OBJECT
public:
    // numbered: the axis with its figures stands under the lines.
    explicit SpeedBands(bool numbered);
    void setContent(const BandAxis& axis, std::vector<BandLine> lines, const QString& unit);
    [[nodiscard]] const std::vector<BandLine>& lines() const { return lines_; }
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    bool numbered_;
    BandAxis axis_;
    std::vector<BandLine> lines_;
    QString unit_;
};

struct LabelsOutcome {
    LabelsPlan estimated;
    SpreadResult spread;
    std::optional<double> zoneMean; // m/s, of the plan as it stands; none: not completed
    std::vector<Margin> margins;    // tightest first
};
[[nodiscard]] LabelsOutcome foretellLabels(const LabelsInput& labels, std::stop_token stop);

class LabelsOutlook : public QWidget {
    Q_OBJECT
public:
    explicit LabelsOutlook(const Units& units);
    // `moved`: the field that led here. null: nothing to foretell yet, `why` says what is missing.
    void show(std::shared_ptr<const LabelsOutcome> outcome, const QString& moved, const QString& why);
    void redraw(); // other units
    [[nodiscard]] std::shared_ptr<const LabelsOutcome> outcome() const { return outcome_; }

private:
    struct Earlier {
        QString label;
        Band band; // m/s
    };
    struct LimitLine {
        TextLabel *name, *figures;
        SpeedBands* bar;
    };
    struct AskLine {
        TextLabel *name, *figures;
        ShortLabel* how;
        SpeedBands* bar;
    };

    void makeTop(QVBoxLayout& column);
    void makeLimits(QVBoxLayout& column);
    void makeAsks(QVBoxLayout& column);
    void drawTop(const BandAxis& axis);
    void drawLimits();
    void drawAsks(const BandAxis& axis);
    [[nodiscard]] BandAxis axis() const;
    [[nodiscard]] QString bandText(const Band& band) const;

    const Units& units_;
    std::shared_ptr<const LabelsOutcome> outcome_;
    std::vector<Earlier> earlier_; // the last two states that moved it, oldest first
    QString latest_;
    QWidget* body_ = nullptr;
    TextLabel *why_ = nullptr, *band_ = nullptr, *chance_ = nullptr, *notJudged_ = nullptr;
    FigureLabel* speed_ = nullptr;
    SpeedBands* bands_ = nullptr;
    std::array<LimitLine, 3> limits_{};
    std::array<AskLine, bestCount + 1> asks_{}; // the last: all of them
};

} // namespace rw
