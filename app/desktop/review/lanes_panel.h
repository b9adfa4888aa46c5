// The lanes of the log in view, with a choice of what to see.
#pragma once

#include "app/desktop/review/review_desk.h"
#include "plotting/lanes.h"

#include <QScrollArea>

class QMenu;
class QToolButton;

namespace rw {

class TextLabel;

class LanesPanel : public QWidget {
    Q_OBJECT
public:
    explicit LanesPanel(ReviewDesk& review, QWidget* parent = nullptr);

    [[nodiscard]] LanesView& view() { return *lanes_; }
    [[nodiscard]] QMenu* chooser() { return chooser_; } // which lanes are shown
    // Keys of hidden quantities, for the layout that is remembered.
    [[nodiscard]] QStringList hiddenKeys() const;
    void setHiddenKeys(const QStringList& keys);

private:
    void refresh();
    void fillChooser();

    ReviewDesk& review_;
    LanesView* lanes_;
    QMenu* chooser_;
    TextLabel* hint_;
    std::vector<Quantity> hidden_;
};

} // namespace rw
