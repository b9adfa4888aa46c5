// What is on the bench: the plan input under work, where it came from, and what is expected of it.
#pragma once

#include "core/plan/plan_input.h"

#include <QObject>
#include <QString>

#include <map>
#include <memory>
#include <optional>

namespace rw {

// A value: replaced as a whole, never edited in place.
struct BenchContent {
    std::shared_ptr<const PlanInput> input;                // null: the bench is empty
    QString vehicle, motor, controller, pack, tyre, venue; // names for people; empty where not from the garage
    QString name;    // what to call it: the vehicle's or the plan's name, or the file's
    QString setupId; // "setup-12"; empty: not from the garage
    QString vehicleId, venueId, packId, motorId;
    int packSeries = 0, packParallel = 0; // of the pack that is named; 0: not known
    double packCapacity_Ah = 0.0;
    int revision = 0;                   // of the setup; 0: not kept in the garage
    int changes = 0;                    // fields that differ from what is kept
    QString keptAs;                     // what they are kept as elsewhere: a plan's name, a file; "" where they are not
    QString file;                       // plan file it was read from, if any
    std::map<QString, QString> sources; // plan key -> where its value comes from, for people: "measured"
};

struct Expectation {
    std::optional<double> zoneMean;          // m/s
    std::optional<double> low, high;         // m/s, 90 % interval, once the spread is known
    std::optional<double> targetProbability; // 0..1, once the spread is known
    bool pending = false;                    // the spread is being computed
    bool exact = false;                      // no value has an uncertainty: a range is not known
};

// What to call the pack: its name while the plan is about it, else what the plan says of it: "8S, 5 Ah".
[[nodiscard]] QString packText(const BenchContent& content);

class Bench : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;

    [[nodiscard]] const BenchContent& content() const { return content_; }
    [[nodiscard]] const Expectation& expectation() const { return expectation_; }
    [[nodiscard]] bool empty() const { return !content_.input; }

    // Another setup or plan: undo of the planner starts anew.
    void put(BenchContent content);
    // The same thing edited.
    void change(BenchContent content);
    void expect(Expectation expectation);
    // Another input for the same thing, of whoever found it: taken over as one step that the planner can undo.
    void suggest(const PlanInput& input, const QString& what);

signals:
    void suggested(const rw::PlanInput& input, const QString& what);
    void replaced(); // another thing lies here
    void changed();  // input or names changed (also after replaced)
    void expectationChanged();

private:
    BenchContent content_;
    Expectation expectation_;
};

// One line on what lies on the bench, e.g. "Heron" and " · pack 6S no. 2 · 26/44 · revision 7, two changes not kept".
struct BenchTitle {
    QString name, rest;
};
[[nodiscard]] BenchTitle benchTitle(const Bench& bench);

} // namespace rw
