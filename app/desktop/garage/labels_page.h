// Garage → New car from its labels: five groups of fields, and beside them what they foretell while one types.
#pragma once

#include "app/desktop/garage/labels_outlook.h"
#include "app/desktop/garage/labels_sheet.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/jobs.h"
#include "storage/id.h"

#include <QTimer>
#include <QWidget>

class QBoxLayout;
class QVBoxLayout;
class QLineEdit;
class QPushButton;

namespace rw {

class LabelsRow;
class TextLabel;

class LabelsPage : public QWidget {
    Q_OBJECT
public:
    explicit LabelsPage(const Desk& desk);

    void begin(); // a new car; the focus to the first empty field
    void edit(const LabelledCar& car);
    [[nodiscard]] LabelsSheet& sheet() { return *sheet_; }
    [[nodiscard]] LabelsOutlook& outlook() { return *outlook_; }
    [[nodiscard]] bool busy() const { return soon_.isActive() || worker_.busy(); }

signals:
    void closed();
    void kept(rw::Id setup);
    void benched();

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    [[nodiscard]] QWidget* makeFields();
    [[nodiscard]] QWidget* makeHelp();
    [[nodiscard]] QWidget* makeSide();
    [[nodiscard]] QWidget* makeGroup(std::size_t index);
    void sheetChanged(const QString& label);
    void ask();
    void showEstimates();
    void help(const LabelsRow& row);
    void keep(bool bench);
    [[nodiscard]] bool keepNew(PlanIds& made);
    [[nodiscard]] bool keepEdited(PlanIds& made);
    void addRows(QVBoxLayout& column, const std::vector<LabelRowInfo>& rows);
    void showCar();
    void focusFirstEmpty();

    Desk desk_;
    LabelsSheet* sheet_ = nullptr;
    LabelsOutlook* outlook_ = nullptr;
    std::vector<LabelsRow*> rows_;
    std::optional<LabelledCar> car_; // whose labels change; none: a new one
    TextLabel* title_ = nullptr;
    QBoxLayout* columns_ = nullptr;
    QLineEdit* name_ = nullptr;
    TextLabel *status_ = nullptr, *helpName_ = nullptr, *helpText_ = nullptr;
    QWidget* side_ = nullptr;
    QPushButton *bench_ = nullptr, *keep_ = nullptr;
    QString moved_; // the field changed last
    QTimer soon_;
    LatestWorker<LabelsOutcome> worker_;
};

} // namespace rw
