// Beside the page: search over everything, and the best passes.
#pragma once

#include "app/desktop/shared/desk.h"
#include "storage/garage.h"

#include <QScrollArea>
#include <QTimer>

#include <vector>

class QComboBox;
class QLineEdit;
class QListWidget;

namespace rw {

class TextLabel;
class ValueTable;

class GarageSide : public QScrollArea {
    Q_OBJECT
public:
    explicit GarageSide(const Desk& desk);
    void refresh();
    void focusSearch();

signals:
    void wanted(rw::Id id);                            // show this one
    void revisionWanted(rw::Id vehicle, rw::Id setup); // show this revision of it
    void openWanted(rw::Id id);                        // a log or a pass, in Review

private:
    void connectLists();
    void search();
    void fillBest();
    [[nodiscard]] Id shownFor(Id id) const; // the thing with a page that stands for a find

    Desk desk_;
    QLineEdit* words_ = nullptr;
    QComboBox* kind_ = nullptr;
    QListWidget* finds_ = nullptr;
    TextLabel* findNote_ = nullptr;
    ValueTable* best_ = nullptr;
    TextLabel* bestNote_ = nullptr;
    std::vector<BestPass> bestPasses_;
    bool filling_ = false;
    QTimer typing_;
};

} // namespace rw
