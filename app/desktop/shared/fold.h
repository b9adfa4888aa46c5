// A heading that folds what is under it: title left, a summary in soft ink right. Space, Enter or a click turns it.
#pragma once

#include <QAbstractButton>
#include <QString>

namespace rw {

class FoldHead : public QAbstractButton {
    Q_OBJECT
public:
    // small: for "more" inside a group.
    FoldHead(const QString& title, bool small, QWidget* parent = nullptr);
    void setSummary(const QString& summary);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString summary_;
    bool small_;
};

} // namespace rw
