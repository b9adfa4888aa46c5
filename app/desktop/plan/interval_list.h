// Rows of 90 % intervals on their own scales, each with the mark that it should stay under or over, and the chance.
#pragma once

#include <QString>
#include <QWidget>

#include <optional>
#include <vector>

namespace rw {

struct IntervalRow {
    QString label;
    QString text; // "154 … 161 km/h"
    double low = 0.0, middle = 0.0, high = 0.0;
    std::optional<double> mark; // target or allowance
    QString chance;             // "71 % make it", "4 % over"
    bool poor = false;          // the chance deserves attention
};

class IntervalList : public QWidget {
    Q_OBJECT
public:
    explicit IntervalList(QWidget* parent = nullptr);
    void setRows(std::vector<IntervalRow> rows);
    [[nodiscard]] const std::vector<IntervalRow>& rows() const { return rows_; }
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {30 * 8, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    std::vector<IntervalRow> rows_;
};

} // namespace rw
