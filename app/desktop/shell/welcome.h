// What a first start shows: what this is, and five ways in.
#pragma once

#include <QWidget>

class QPushButton;
class QVBoxLayout;

namespace rw {

class Welcome : public QWidget {
    Q_OBJECT
public:
    explicit Welcome(QWidget* parent = nullptr);

signals:
    void labelsWanted();
    void sampleWanted();
    void newGarageWanted();
    void openWanted();
    void exampleWanted();

private:
    QPushButton* addWay(QVBoxLayout& column, const QString& title, const QString& text);
};

} // namespace rw
