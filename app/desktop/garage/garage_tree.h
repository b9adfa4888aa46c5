// The tree of the garage: kinds with their counts, parts under them.
#pragma once

#include "storage/id.h"

#include <QWidget>

#include <optional>

class QTreeWidget;
class QTreeWidgetItem;

namespace rw {

class GarageSession;

class GarageTree : public QWidget {
    Q_OBJECT
public:
    explicit GarageTree(GarageSession& session);

    void refresh();
    void setRetiredShown(bool shown);
    [[nodiscard]] std::optional<Id> chosen() const;
    // The kind under the cursor: what "add" makes.
    [[nodiscard]] ItemKind chosenKind() const;
    void choose(Id id);

signals:
    void chose(rw::Id id);
    void contextMenuWanted(const QPoint& globalPosition);

private:
    [[nodiscard]] QTreeWidgetItem* itemOf(Id id) const;

    GarageSession& session_;
    QTreeWidget* tree_ = nullptr;
    bool retired_ = false;
    bool filling_ = false;
};

} // namespace rw
