// The tabs of the planner in captioned groups: one bar, one Tab stop, arrow keys walk every tab across the groups. The
// caption of the group that holds the open tab has the accent colour.
#pragma once

#include <QStackedWidget>
#include <QString>
#include <QWidget>

#include <vector>

namespace rw {

class TabGroupBar : public QWidget {
    Q_OBJECT
public:
    TabGroupBar();

    void add(const QString& group, const QString& title); // a group's tabs one after the other
    [[nodiscard]] int count() const { return static_cast<int>(tabs_.size()); }
    [[nodiscard]] int current() const { return current_; }
    void setCurrent(int index);
    [[nodiscard]] QString title(int index) const { return tabs_[static_cast<std::size_t>(index)].title; }
    [[nodiscard]] QString group(int index) const { return tabs_[static_cast<std::size_t>(index)].group; }
    [[nodiscard]] QRectF tabRect(int index) const;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

signals:
    void currentChanged(int index);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    struct Tab {
        QString group, title;
    };
    [[nodiscard]] bool beginsGroup(std::size_t index) const;
    [[nodiscard]] double widthWith(double gap) const;
    [[nodiscard]] double gapBetweenGroups() const; // shrinks first where there is little room
    [[nodiscard]] bool captions() const;           // and then they go
    void tellReaders();

    std::vector<Tab> tabs_;
    int current_ = 0;
};

// The bar with the panels under it.
class TabGroups : public QWidget {
    Q_OBJECT
public:
    TabGroups();
    void addPanel(const QString& group, const QString& title, QWidget* panel);
    [[nodiscard]] TabGroupBar& bar() { return *bar_; }
    [[nodiscard]] QWidget* currentWidget() const { return pages_->currentWidget(); }
    void setCurrentWidget(QWidget* panel);
    [[nodiscard]] int count() const { return bar_->count(); }
    [[nodiscard]] int currentIndex() const { return bar_->current(); }
    void setCurrentIndex(int index) { bar_->setCurrent(index); }
    [[nodiscard]] QString tabText(int index) const { return bar_->title(index); }
    [[nodiscard]] QWidget* widget(int index) const { return pages_->widget(index); }

signals:
    void currentChanged(int index);

private:
    TabGroupBar* bar_;
    QStackedWidget* pages_;
};

} // namespace rw
