// A usual range as a line in the field's own unit, the value as a tick on it; an estimate as a grey tick with its band.
#pragma once

#include <QString>
#include <QWidget>

#include <optional>

namespace rw {

struct UsualRangeContent {
    double low = 0.0, high = 0.0; // in the unit shown
    QString lowText, highText;
    std::optional<double> value;
    double uncertainty = 0.0;
    bool estimated = false;
};

class UsualRange : public QWidget {
    Q_OBJECT
public:
    explicit UsualRange(QWidget* parent = nullptr);
    void setContent(const UsualRangeContent& content);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    UsualRangeContent content_;
};

} // namespace rw
