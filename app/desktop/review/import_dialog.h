// What was detected in the log in view: text form, columns, units, how sure. Everything can be overruled, tried at
// once, and kept as a map of one's own that is offered again for the same header.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QDialog>

class QCheckBox;
class QComboBox;
class QLineEdit;
class QSpinBox;
class QTableWidget;

namespace rw {

class TextLabel;

class ImportDialog : public QDialog {
    Q_OBJECT
public:
    explicit ImportDialog(ReviewDesk& review, QWidget* parent = nullptr);

    [[nodiscard]] QTableWidget& columns() { return *columns_; }
    // What the fields say now. Throws InputError where a field cannot be read.
    [[nodiscard]] ImportOptions options() const;

private:
    void build();
    void refresh();
    void fillColumns(const ImportReport& report);
    void fillText(const ReviewData& current);
    void readAgain();
    void keepMap();
    [[nodiscard]] ColumnMap map() const;

    ReviewDesk& review_;
    TextLabel *title_, *summary_, *refused_, *problem_;
    QComboBox *encoding_, *separator_, *decimal_, *timeForm_;
    QLineEdit* rate_;
    QSpinBox* polePairs_;
    QTableWidget* columns_;
    QCheckBox* keep_;
};

} // namespace rw
