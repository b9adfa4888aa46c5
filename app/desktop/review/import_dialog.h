// What was detected in a log: text form, columns, units, how sure. Everything can be overruled, tried at once, and kept
// as a map of one's own that is offered again for the same header. Of the log in view, or of one that could not be read
// because nobody said yet what its columns are.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QDialog>

class QCheckBox;
class QComboBox;
class QLineEdit;
class QSpinBox;

namespace rw {

class ColumnTable;
class ComplaintLabel;
class TextLabel;

class ImportDialog : public QDialog {
    Q_OBJECT
public:
    explicit ImportDialog(ReviewDesk& review, QWidget* parent = nullptr);
    ImportDialog(ReviewDesk& review, std::shared_ptr<const RefusedLog> refused, QWidget* parent = nullptr);

    [[nodiscard]] ColumnTable& columns() { return *columns_; }
    // What the fields say now. Throws InputError where a field cannot be read.
    [[nodiscard]] ImportOptions options() const;

private:
    void build();
    [[nodiscard]] QWidget* makeForms();
    void refresh();
    void refreshRefused();
    void fillText(const ImportReport& report, const ImportOptions& used);
    void readAgain();
    void keepMap(const ColumnMap& map);
    [[nodiscard]] const ImportReport& report() const;
    [[nodiscard]] ColumnMap map() const;

    ReviewDesk& review_;
    std::shared_ptr<const RefusedLog> refused_; // null: of the log in view
    std::shared_ptr<const ReviewData> shown_;
    TextLabel *title_, *summary_, *lines_;
    ComplaintLabel* problem_;
    QComboBox *encoding_, *separator_, *decimal_, *timeForm_;
    QLineEdit* rate_;
    QSpinBox* polePairs_;
    ColumnTable* columns_;
    QCheckBox* keep_;
};

} // namespace rw
