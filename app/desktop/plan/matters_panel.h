// What matters most: each uncertain input moved by its standard uncertainty, and what that does to a figure; beside
// each what measuring it would do to the band of the zone speed.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/plan/sensitivity.h"
#include "core/plan/worth.h"

#include <QWidget>

class QComboBox;
class QCheckBox;

namespace rw {

class BarList;
class SpreadController;
class ShortLabel;

class MattersPanel : public QWidget {
    Q_OBJECT
public:
    MattersPanel(PlanSession& session, SpreadController& spread, QWidget* parent = nullptr);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] BarList& bars() { return *bars_; }

signals:
    void fieldWanted(const QString& key);

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    void draw();
    // What measuring the input does to the band of the zone speed; null: not known yet, or nothing.
    [[nodiscard]] const Worth* worthOf(const std::string& key) const;
    [[nodiscard]] QString worthText(const Worth& worth, const PlanField& field) const;

    PlanSession& session_;
    SpreadController& spread_;
    QComboBox* figure_ = nullptr;
    QCheckBox* byWorth_ = nullptr;
    BarList* bars_ = nullptr;
    ShortLabel* note_ = nullptr;
    TabWorker<SensitivityResult> worker_;
};

} // namespace rw
