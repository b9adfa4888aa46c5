// Lists of bars, painted and readable by keyboard: what an input does to a figure, and 90 % intervals.
#pragma once

#include <QString>
#include <QWidget>

#include <optional>
#include <vector>

namespace rw {

struct BarRow {
    QString key;                    // what activated() hands back
    QString label, note;            // "speed constant", "± 15 rpm/V"
    std::optional<double> down, up; // in the unit shown
    QString text;                   // "−0.42 / +0.40"
    QString worth;                  // a second line: what measuring it would do; "" where there is none
};

class BarList : public QWidget {
    Q_OBJECT
public:
    BarList();
    void setRows(std::vector<BarRow> rows);
    [[nodiscard]] const std::vector<BarRow>& rows() const { return rows_; }
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {30 * 8, sizeHint().height()}; }

signals:
    void activated(const QString& key);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void choose(int row);
    [[nodiscard]] int rowHeight() const;

    std::vector<BarRow> rows_;
    int chosen_ = -1, pointed_ = -1;
};

// Rows of 90 % intervals on their own scales, each with the mark that it should stay under or over, and the chance.
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
    IntervalList();
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
