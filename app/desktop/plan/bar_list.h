// Rows of bars around a middle line: what an input does to a figure when it moves down or up. Painted,
// keyboard-readable.
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
    explicit BarList(QWidget* parent = nullptr);
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

} // namespace rw
