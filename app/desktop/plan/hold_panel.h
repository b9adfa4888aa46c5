// "Will it hold?": one row a limit, the tightest on top; what to do where one is broken; how many passes; cautions.
#pragma once

#include <QWidget>

#include <vector>

class QVBoxLayout;

namespace rw {

class PlanSession;
class TextLabel;
class Units;
struct Margin;

// One limit: name and what is left, value and allowance, a bar of what is left. Broken: hatched, with advice.
class MarginRow : public QWidget {
    Q_OBJECT
public:
    explicit MarginRow(QWidget* parent = nullptr);
    void show(const Margin& margin, const Units& units);
    [[nodiscard]] QString text() const; // all its words, as a person reads them

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    TextLabel *title_ = nullptr, *left_ = nullptr, *value_ = nullptr, *allowed_ = nullptr, *advice_ = nullptr;
    QWidget* bar_ = nullptr;
};

class HoldPanel : public QWidget {
    Q_OBJECT
public:
    explicit HoldPanel(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] const std::vector<MarginRow*>& rows() const { return rows_; }

private:
    void draw();
    [[nodiscard]] QString repeatsText() const;
    [[nodiscard]] QString boundText() const;

    PlanSession& session_;
    QVBoxLayout* column_ = nullptr;
    TextLabel *problem_ = nullptr, *repeats_ = nullptr, *bound_ = nullptr, *caution_ = nullptr;
    std::vector<MarginRow*> rows_;
};

} // namespace rw
