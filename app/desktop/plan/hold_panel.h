// "Will it hold?": the answer in a sentence, one row a limit, the tightest on top; what to do where one is broken; how
// many passes; cautions.
#pragma once

#include "app/desktop/shared/jobs.h"
#include "core/plan/hold.h"

#include <QWidget>

#include <memory>
#include <vector>

class QVBoxLayout;

namespace rw {

class MarginBar;
class PlanSession;
class TextLabel;
class Units;
struct Margin;

// One limit: name and what is left, value and allowance, a bar of what is left. Broken: hatched, with advice.
class MarginRow : public QWidget {
    Q_OBJECT
public:
    MarginRow();
    void show(const Margin& margin, const Units& units);
    [[nodiscard]] QString text() const; // all its words, as a person reads them

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    TextLabel *title_ = nullptr, *left_ = nullptr, *value_ = nullptr, *allowed_ = nullptr, *advice_ = nullptr;
    MarginBar* bar_ = nullptr;
};

class HoldPanel : public QWidget {
    Q_OBJECT
public:
    explicit HoldPanel(PlanSession& session);
    [[nodiscard]] const std::vector<MarginRow*>& rows() const { return rows_; }
    [[nodiscard]] QString sentence() const; // what it opens with
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    void take(QWidget* card); // under the limits, always in sight

signals:
    void answered(); // sentence() is another

private:
    void draw();
    void answer();
    [[nodiscard]] QString repeatsText() const;
    [[nodiscard]] QString boundText() const;

    PlanSession& session_;
    QVBoxLayout *column_ = nullptr, *place_ = nullptr; // place_: of a card
    TextLabel *sentence_ = nullptr, *heldBack_ = nullptr;
    TextLabel *problem_ = nullptr, *repeats_ = nullptr, *bound_ = nullptr;
    std::vector<MarginRow*> rows_;
    std::shared_ptr<const HoldAnswer> answer_; // null: not known yet of this input
    LatestWorker<HoldAnswer> worker_;
};

} // namespace rw
