// The ladder's page on screen, as it prints but as wide as it takes: beyond the window it scrolls. A step can be
// chosen, by a click or the arrow keys; never one that is likely to break a limit unless a person does it.
#pragma once

#include "app/desktop/pages/ladder_sheet.h"

#include <QWidget>

#include <optional>

namespace rw {

class StairView : public QWidget {
    Q_OBJECT
public:
    explicit StairView(QWidget* parent = nullptr);
    void setSheet(LadderSheet sheet);
    void setEmpty(const QString& words); // nothing but what to do next
    [[nodiscard]] const LadderSheet& sheet() const { return sheet_; }
    [[nodiscard]] std::optional<std::size_t> chosen() const { return chosen_; }
    void choose(std::optional<std::size_t> column);
    // Left and right of a column in the view.
    [[nodiscard]] std::pair<double, double> columnAt(std::size_t column) const;
    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override;
    [[nodiscard]] QSize sizeHint() const override { return minimumSizeHint(); }
    [[nodiscard]] QSize minimumSizeHint() const override;

signals:
    void choiceChanged();
    void columnWanted(int left, int right); // bring it into view

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    [[nodiscard]] bool choosable(std::size_t column) const;

    LadderSheet sheet_;
    QString empty_;
    std::optional<std::size_t> chosen_;
};

} // namespace rw
