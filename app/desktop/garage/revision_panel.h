// A vehicle's setup revisions, newest first, and what changed from one to the next.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/figure_table.h"
#include "storage/garage.h"

#include <QWidget>

#include <optional>
#include <vector>

class QComboBox;
class QPushButton;

namespace rw {

class TextLabel;

class RevisionPanel : public QWidget {
    Q_OBJECT
public:
    explicit RevisionPanel(const Desk& desk);
    void show(Id vehicle);
    void choose(Id setup); // one of the vehicle's

signals:
    void benchWanted(rw::Id setup);

private:
    void showDifference();
    [[nodiscard]] const Setup* shown() const; // null: none
    [[nodiscard]] std::optional<Id> comparedWith(const Setup& setup) const;
    [[nodiscard]] ValueRows differenceRows(const std::vector<Difference>& differences) const;
    void fillRevisions(const std::vector<BestPass>& all);

    Desk desk_;
    std::vector<Setup> setups_;
    std::optional<Id> chosen_; // stays chosen when the list is filled anew
    ValueTable *revisions_ = nullptr, *differences_ = nullptr;
    TextLabel *differenceHead_ = nullptr, *empty_ = nullptr;
    QComboBox* against_ = nullptr;
    QPushButton* bench_ = nullptr;
};

} // namespace rw
