// The labels while they are typed: rows of the page, each with the text that stands in it, and the labels they make.
// Values stay as typed numbers in SI; texts follow the unit switch.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/labels.h"
#include "storage/garage.h"

#include <QObject>
#include <QString>

#include <optional>
#include <string>
#include <vector>

namespace rw {

struct LabelRowInfo {
    PlanField field;                   // texts, unit, ranges; get and set stay empty
    const LabelField* label = nullptr; // none: a value beyond labels, by its plan key
    std::string planKey;               // whose estimate stands in the empty field; "" where there is none
};

struct LabelRowGroup {
    QString title, source; // "Car", "scale and ruler"
    std::vector<LabelRowInfo> rows;
    std::vector<LabelRowInfo> more; // what few boxes tell; folded away
};

// What a choice or a flag can be, by its number.
[[nodiscard]] QStringList choiceWords(const FieldInfo& field);

class LabelsSheet : public QObject {
    Q_OBJECT
public:
    explicit LabelsSheet(const Units& units, QObject* parent = nullptr);

    [[nodiscard]] const std::vector<LabelRowGroup>& groups() const { return groups_; }
    [[nodiscard]] const Units& units() const { return units_; }
    [[nodiscard]] const LabelsInput& labels() const { return labels_; }
    void setLabels(const LabelsInput& labels);
    // As they are estimated from: a no-load current without its voltage was taken at the pack's nominal one.
    [[nodiscard]] LabelsInput complete() const;

    [[nodiscard]] QString text(const LabelRowInfo& row) const; // "" where empty
    [[nodiscard]] std::optional<double> value(const LabelRowInfo& row) const;
    // Throws InputError without a place, one sentence in the unit shown; "" empties the field.
    void setText(const LabelRowInfo& row, const QString& text);
    void forget(const LabelRowInfo& row); // as if nothing stood there; that it was measured stays
    void choose(const LabelRowInfo& row, int index);
    // A label that can be measured better than it is printed, and whether it was.
    [[nodiscard]] static bool measurable(const LabelRowInfo& row);
    [[nodiscard]] bool measured(const LabelRowInfo& row) const { return labels_.measured.contains(row.field.key()); }
    void setMeasured(const LabelRowInfo& row, bool measured);
    [[nodiscard]] bool needed(const LabelRowInfo& row) const; // empty, and no plan without it
    [[nodiscard]] QStringList missing() const;                // names, in the order of the page
    [[nodiscard]] int typed() const;                          // fields that hold something of their own

signals:
    void changed(const QString& label); // what was changed, for people; "" for all
    void replaced();                    // by another car's

private:
    void take(const LabelRowInfo& row, std::optional<double> inside); // none: empties it
    const Units& units_;
    std::vector<LabelRowGroup> groups_;
    LabelsInput labels_;
};

// The labels' plan as things of the garage: vehicle, tyre, motor, controller, pack, gears, venue and setup revision 1,
// each value with its source; the labels stay with the vehicle, for when one of them changes.
PlanIds keepLabels(Garage& garage, const LabelsInput& labels, const std::string& name);

// A car of the garage that came from its labels: they, its newest setup, and the strip that came with it.
struct LabelledCar {
    std::string name;
    LabelsInput labels;
    Id setup{ItemKind::Setup, 0};
    std::optional<Id> venue; // none: gone, or known by other labels now
};
[[nodiscard]] std::optional<LabelledCar> labelledCar(Garage& garage, Id vehicle); // none: it did not
// What still is a label or an estimate follows; returns the revision that has it.
Id keepChangedLabels(Garage& garage, const LabelledCar& car, const LabelsInput& labels);

} // namespace rw
