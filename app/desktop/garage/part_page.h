// The page of one thing in the garage: what it is, its history, its values.
#pragma once

#include "app/desktop/shared/desk.h"
#include "storage/garage.h"

#include <QScrollArea>

#include <optional>
#include <string>
#include <vector>

namespace rw {

class Chart;
class KeptList;
class RevisionPanel;
class TextLabel;
class ValueTable;

class PartPage : public QScrollArea {
    Q_OBJECT
public:
    explicit PartPage(const Desk& desk);
    void show(std::optional<Id> id); // none: says what to do
    void refresh() { show(id_); }
    [[nodiscard]] std::optional<Id> shown() const { return id_; }
    void chooseRevision(Id setup); // of the vehicle shown

signals:
    void benchWanted(rw::Id setup);
    void editWanted(const QString& key);
    void openWanted(rw::Id id); // a log or a pass, in Review

private:
    void showPart(Garage& garage, const Part& part);
    void showOuting(Garage& garage, const Outing& outing);
    void showNothing();
    void showHistory(Garage& garage, Id id);
    void showFitted(Garage& garage, Id part);

    Desk desk_;
    std::optional<Id> id_;
    std::vector<std::string> keys_;
    TextLabel *title_ = nullptr, *line_ = nullptr, *notes_ = nullptr, *chartNote_ = nullptr;
    TextLabel *valuesHead_ = nullptr, *valuesNote_ = nullptr, *fittedHead_ = nullptr;
    Chart* chart_ = nullptr;
    std::vector<Id> points_; // passes of the chart
    KeptList* kept_ = nullptr;
    RevisionPanel* revisions_ = nullptr;
    ValueTable *values_ = nullptr, *fitted_ = nullptr;
};

} // namespace rw
