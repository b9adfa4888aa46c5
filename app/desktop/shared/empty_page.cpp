#include "app/desktop/shared/empty_page.h"

#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QVBoxLayout>

namespace rw {

QWidget* emptyPage(const QString& heading, const QList<QWidget*>& below) {
    constexpr int readable = 60 * gridStep;
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setSpacing(2 * gridStep);
    column->addStretch(2);
    for (QWidget* widget : QList<QWidget*>{new TextLabel(heading, Type::Heading)} + below) {
        if (auto* text = qobject_cast<TextLabel*>(widget)) {
            text->setWordWrap(true);
            text->setAlignment(Qt::AlignHCenter);
            text->setFixedWidth(readable);
        }
        // In a row of its own a wrapped text has the height of its own width; aligned in the column it would be given
        // that of the page's, and lose its last lines.
        auto* row = new QHBoxLayout;
        row->addStretch();
        row->addWidget(widget);
        row->addStretch();
        column->addLayout(row);
    }
    column->addStretch(3);
    return page;
}

} // namespace rw
