// The manual: short chapters of resources/manual, one at a time. The text is ours and comes from the program itself.
#pragma once

#include <QDialog>

class QListWidget;
class QTextBrowser;

namespace rw {

class ManualDialog : public QDialog {
    Q_OBJECT
public:
    explicit ManualDialog(QWidget* parent = nullptr);

    [[nodiscard]] int chapters() const;
    void turnTo(int chapter);
    [[nodiscard]] QString shownText() const;

private:
    QListWidget* list_;
    QTextBrowser* page_;
};

} // namespace rw
