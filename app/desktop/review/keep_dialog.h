// Which setup ran this log, and on which outing: asked before the log goes into the garage.
#pragma once

#include "app/desktop/review/log_keeper.h"

#include <QDialog>

class QComboBox;
class QFormLayout;
class QLineEdit;

namespace rw {

class SessionPacks;

class KeepDialog : public QDialog {
    Q_OBJECT
public:
    KeepDialog(ReviewDesk& review, QWidget* parent = nullptr); // the garage is open
    [[nodiscard]] KeepChoice choice() const;

    [[nodiscard]] QComboBox& setup() { return *setup_; }
    [[nodiscard]] QComboBox& outing() { return *outing_; }
    [[nodiscard]] SessionPacks* packs() {
        return packs_;
    } // null where the log has one session: its pack is the setup's

private:
    void fill();
    void addPacks(QFormLayout& form);
    void takeKept(Garage& garage, Id log); // what the garage knows of the log already
    void showNewOuting();

    ReviewDesk& review_;
    QComboBox *setup_, *outing_, *venue_;
    QLineEdit *outingName_, *date_, *notes_;
    SessionPacks* packs_ = nullptr;
};

} // namespace rw
