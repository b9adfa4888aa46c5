#include "app/desktop/shell/welcome.h"

#include "app/desktop/shared/caution_texts.h"
#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QVBoxLayout>

namespace rw {

Welcome::Welcome(QWidget* parent)
    : QWidget(parent) {
    auto* outer = new QHBoxLayout(this);
    auto* middle = new QWidget;
    middle->setFixedWidth(76 * gridStep);
    auto* column = new QVBoxLayout(middle);
    column->setSpacing(gridStep);
    outer->addStretch();
    outer->addWidget(middle);
    outer->addStretch();
    column->addStretch(2);
    column->addWidget(new TextLabel(tr("Plan a pass, run it, see what it says."), Type::Figure));
    auto* what =
        new TextLabel(tr("Runwright computes a top-speed pass of your car before you run it, reads the log afterwards, "
                         "and remembers every setup."),
                      Type::Body, Tone::Soft);
    what->setWordWrap(true);
    column->addWidget(what);
    column->addSpacing(2 * gridStep);

    QPushButton* labels = addWay(
        *column, tr("New car from its labels"),
        tr("About twenty figures off the boxes, a scale and a ruler: a first plan in five minutes, and how sure."));
    labels->setObjectName(QStringLiteral("welcomeLabels"));
    labels->setDefault(true);
    QPushButton* sample =
        addWay(*column, tr("Look at the sample garage"),
               tr("Three invented cars with a season of passes. Nothing in it is real; change what you like."));
    sample->setObjectName(QStringLiteral("welcomeSample"));
    QPushButton* fresh = addWay(*column, tr("Start your own garage"), tr("An empty file in a place that you choose."));
    fresh->setObjectName(QStringLiteral("welcomeNew"));
    QPushButton* open = addWay(*column, tr("Open a file"),
                               tr("A garage, a plan, or a log. You can also drop a file anywhere on this window."));
    open->setObjectName(QStringLiteral("welcomeOpen"));
    QPushButton* example =
        addWay(*column, tr("Plan without a garage"), tr("Starts from an invented car; every figure is yours to set."));
    example->setObjectName(QStringLiteral("welcomeExample"));
    column->addSpacing(2 * gridStep);
    column->addWidget(thinRule(Qt::Horizontal));
    auto* caution = new TextLabel(cautionLine(), Type::Small, Tone::Soft);
    caution->setWordWrap(true);
    column->addWidget(caution);
    column->addStretch(3);

    connect(labels, &QPushButton::clicked, this, &Welcome::labelsWanted);
    connect(sample, &QPushButton::clicked, this, &Welcome::sampleWanted);
    connect(fresh, &QPushButton::clicked, this, &Welcome::newGarageWanted);
    connect(open, &QPushButton::clicked, this, &Welcome::openWanted);
    connect(example, &QPushButton::clicked, this, &Welcome::exampleWanted);
}

QPushButton* Welcome::addWay(QVBoxLayout& column, const QString& title, const QString& text) {
    auto* row = new QHBoxLayout;
    row->setSpacing(2 * gridStep);
    auto* button = new QPushButton(title);
    button->setFixedWidth(27 * gridStep);
    button->setAccessibleDescription(text);
    auto* label = new TextLabel(text, Type::Body, Tone::Soft);
    label->setWordWrap(true);
    row->addWidget(button, 0, Qt::AlignTop);
    row->addWidget(label, 1, Qt::AlignVCenter);
    column.addLayout(row);
    return button;
}

} // namespace rw
