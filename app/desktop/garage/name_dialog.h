// What a part or an outing is called, the line that lists show, and notes.
#pragma once

#include "storage/values.h"

#include <QDialog>

#include <string>

class QLineEdit;
class QPlainTextEdit;

namespace rw {

class NameDialog : public QDialog {
    Q_OBJECT
public:
    explicit NameDialog(const Part& part, QWidget* parent = nullptr);
    explicit NameDialog(const Outing& outing, QWidget* parent = nullptr); // has no description
    [[nodiscard]] std::string name() const;
    [[nodiscard]] std::string description() const;
    [[nodiscard]] std::string notes() const;

private:
    void build(const std::string& name, const std::string* description, const std::string& notes);

    QLineEdit *name_ = nullptr, *description_ = nullptr;
    QPlainTextEdit* notes_ = nullptr;
};

} // namespace rw
