// What a picked row of the power table would change, in words, with the button that puts it on the bench. Stands under
// the limits; in a window without them, under the table.
#pragma once

#include "app/desktop/plan/plan_session.h"
#include "core/choose/choose_power.h"

#include <QWidget>

class QPushButton;

namespace rw {

class TextLabel;

class PowerCard : public QWidget {
    Q_OBJECT
public:
    explicit PowerCard(QWidget* parent = nullptr);
    // No row: what to do instead.
    void show(const ChooseRow* row, const QString& name, const PlanSession& session);
    [[nodiscard]] QString text() const;

signals:
    void putWanted();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    TextLabel *head_ = nullptr, *words_ = nullptr;
    QPushButton* put_ = nullptr;
};

// The same motor, controller, pack and gears.
[[nodiscard]] bool sameParts(const PlanInput& a, const PlanInput& b);

} // namespace rw
