// What matters most: each uncertain input moved by its standard uncertainty, and what that does to a figure.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/plan/sensitivity.h"

#include <QWidget>

class QComboBox;

namespace rw {

class BarList;
class TextLabel;

class MattersPanel : public QWidget {
    Q_OBJECT
public:
    explicit MattersPanel(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] BarList& bars() { return *bars_; }

signals:
    void fieldWanted(const QString& key);

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    void draw();

    PlanSession& session_;
    QComboBox* figure_ = nullptr;
    BarList* bars_ = nullptr;
    TextLabel* note_ = nullptr;
    TabWorker<SensitivityResult> worker_;
};

} // namespace rw
