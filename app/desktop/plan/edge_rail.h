// What is left of a column that is folded away: a thin strip with its words written upwards. Pressed, the column stands
// beside it; pressed again, it is folded.
#pragma once

#include <QAbstractButton>

namespace rw {

class EdgeRail : public QAbstractButton {
    Q_OBJECT
public:
    explicit EdgeRail(Qt::Edge edge, QWidget* parent = nullptr);
    void setWords(const QString& strong, const QString& rest);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {sizeHint().width(), 0}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void enterEvent(QEnterEvent* event) override;
    void leaveEvent(QEvent* event) override;

private:
    Qt::Edge edge_;
    QString strong_, rest_;
};

} // namespace rw
