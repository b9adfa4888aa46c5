// What can be done to what the garage holds: add, edit, duplicate, retire, delete, put on the bench, undo.
#pragma once

#include "app/desktop/garage/garage_steps.h"
#include "app/desktop/shared/desk.h"
#include "storage/garage.h"

#include <QObject>

#include <functional>
#include <optional>
#include <string>

class QAction;
class QWidget;

namespace rw {

class GarageActions : public QObject {
    Q_OBJECT
public:
    // chosen: the thing shown; kind: what "add" makes. Dialogs stand over `window`.
    GarageActions(const Desk& desk, QWidget* window, std::function<std::optional<Id>()> chosen,
                  std::function<ItemKind()> kind, QObject* parent = nullptr);

    [[nodiscard]] QList<QAction*> partActions() const;
    [[nodiscard]] GarageSteps& steps() const { return *steps_; }
    void editValue(const std::string& key);
    void putOnBench(Id setup);
    void refresh(); // what is enabled

signals:
    void made(rw::Id id);
    void benched();

private:
    [[nodiscard]] std::optional<Part> chosenPart(); // none: nothing chosen, no part, or the garage does not answer
    void addPart();
    void addSetup();
    void rename();
    void addValue();
    void takeLimits();
    void duplicate();
    void retire();
    void remove();

    Desk desk_;
    QWidget* window_;
    std::function<std::optional<Id>()> chosen_;
    std::function<ItemKind()> kind_;
    GarageSteps* steps_;
    QAction *add_, *addSetup_, *rename_, *addValue_, *takeLimits_, *duplicate_, *retire_, *remove_;
};

} // namespace rw
