// Choosing one thing from each of a few lists: a setup and a venue, a plan.
#pragma once

#include "storage/garage.h"

#include <QDialog>
#include <QString>

#include <vector>

class QDialogButtonBox;
class QHBoxLayout;
class QListWidget;

namespace rw {

struct PickRow {
    QString id, name, detail;
};

// The garage's parts of a kind, and its plans with their days.
[[nodiscard]] std::vector<PickRow> partRows(Garage& garage, ItemKind kind);
[[nodiscard]] std::vector<PickRow> planRows(Garage& garage);

struct PickList {
    QString heading;
    std::vector<PickRow> rows;
    QString empty; // what to say, and do, where there is nothing to choose
};

class PickDialog : public QDialog {
    Q_OBJECT
public:
    explicit PickDialog(const QString& title, QWidget* parent = nullptr);
    void addList(const PickList& what);
    [[nodiscard]] QString picked(int list) const; // id; "" if none
    void pick(int list, const QString& id);

private:
    void refresh();

    QHBoxLayout* lists_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
    std::vector<QListWidget*> widgets_;
};

// The id of the row that the person picked, "" where none was.
[[nodiscard]] QString pickOne(QWidget* window, const QString& title, const PickList& list);
// What the person typed, "" where nothing was or it was given up.
[[nodiscard]] QString askForName(QWidget* window, const QString& title, const QString& label, const QString& proposal);

} // namespace rw
