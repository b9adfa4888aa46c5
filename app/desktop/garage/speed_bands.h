// Bands on one axis of speed, one line each: pale as it is now or was, solid as it would be, a tick, the target dotted.
#pragma once

#include <QString>
#include <QWidget>

#include <optional>
#include <vector>

namespace rw {

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
    explicit SpeedBands(bool numbered, QWidget* parent = nullptr);
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

} // namespace rw
