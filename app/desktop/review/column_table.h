// The columns of a log as a person maps them: name, what it is used as, unit from a list or typed, a factor, how sure.
#pragma once

#include "core/log/column_map.h"
#include "core/log/import_refusal.h"

#include <QComboBox>
#include <QLineEdit>
#include <QTableWidget>

namespace rw {

class ColumnTable : public QTableWidget {
    Q_OBJECT
public:
    enum Column { Name, First, UsedAs, Unit, Factor, Sure, ColumnCount };

    ColumnTable();

    // As it was read. map: what the owner said before, whose factors stay.
    void setReport(const ImportReport& report, const std::optional<ColumnMap>& map);
    // What was found of a log that could not be read yet; the likely time column is chosen as the time.
    void setSurvey(const ImportSurvey& survey);
    // What the fields say. Throws InputError where a factor is no number over 0.
    [[nodiscard]] std::vector<MappedColumn> mapped() const;

    [[nodiscard]] QComboBox& usedAs(int row) const { return *qobject_cast<QComboBox*>(cellWidget(row, UsedAs)); }
    // Editable: what the list lacks can be typed.
    [[nodiscard]] QComboBox& unit(int row) const { return *qobject_cast<QComboBox*>(cellWidget(row, Unit)); }
    [[nodiscard]] QLineEdit& factor(int row) const { return *qobject_cast<QLineEdit*>(cellWidget(row, Factor)); }

private:
    struct Row {
        const ImportColumn& column;
        std::optional<Quantity> used;
        QString first, sure;
        double factor = 1.0;
    };
    void fill(int row, const Row& what);
    void offerUnits(int row);
    void makeFields(int row, const QString& name);
};

} // namespace rw
