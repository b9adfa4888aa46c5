// Before a new revision of a setup: what it changes, and why.
#pragma once

#include <QDialog>
#include <QString>

class QPlainTextEdit;
class QPushButton;

namespace rw {

class PlanSession;

class RevisionDialog : public QDialog {
    Q_OBJECT
public:
    RevisionDialog(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] QString reason() const;
    void setReason(const QString& reason);

private:
    QPlainTextEdit* reason_ = nullptr;
    QPushButton* keep_ = nullptr;
};

} // namespace rw
