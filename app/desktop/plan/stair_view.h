// The ladder as a stair over speed: a tread a step with its band of nine in ten, the change at its riser.
#pragma once

#include <QString>
#include <QWidget>

#include <optional>
#include <vector>

namespace rw {

struct StairTread {
    QString figure, detail, change;           // "156.4", "153.6 … 159.2", "pinion 27 to 30"
    double low = 0.0, mean = 0.0, high = 0.0; // in the shown unit
    bool blocked = false;                     // dashed: nothing makes it
};

class StairView : public QWidget {
    Q_OBJECT
public:
    explicit StairView(QWidget* parent = nullptr);
    // empty: what to say where there are no treads.
    void setStair(std::vector<StairTread> treads, std::optional<double> target, const QString& title,
                  const QString& empty);
    [[nodiscard]] const std::vector<StairTread>& treads() const { return treads_; }
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    std::vector<StairTread> treads_;
    std::optional<double> target_;
    QString title_, empty_;
};

} // namespace rw
