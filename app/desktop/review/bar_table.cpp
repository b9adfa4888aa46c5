#include "app/desktop/review/bar_table.h"

#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QHeaderView>
#include <QPainter>
#include <QTableView>

#include <algorithm>

namespace rw {

namespace {

constexpr double paleHeight = 10.0, solidHeight = 6.0, diamondSize = 5.0;
constexpr int padding = 5, wrapPadding = 4;
constexpr int barWidth = 120; // logical pixels, at least

class BarPainter {
public:
    BarPainter(QPainter& painter, const QRectF& box, const BarCell& bar, const Look& look)
        : painter_(painter)
        , box_(box)
        , bar_(bar)
        , look_(look) {}

    void paint() const {
        const QColor colour = bar_.grey ? look_.soft : look_.accent;
        painter_.setRenderHint(QPainter::Antialiasing);
        strokeLine(painter_, QPen(look_.rule, 1.0), QPointF(box_.left(), middle()), QPointF(box_.right(), middle()));
        QColor pale = colour;
        pale.setAlphaF(0.3F);
        if (bar_.pale) stretch(*bar_.pale, paleHeight, pale);
        if (bar_.solid) stretch(*bar_.solid, bar_.pale ? solidHeight : paleHeight, colour);
        if (bar_.tick) line(*bar_.tick, QPen(bar_.pale ? look_.soft : look_.ink, 1.25), paleHeight);
        if (bar_.target) line(*bar_.target, QPen(look_.ink, 1.0, Qt::DotLine), box_.height());
        if (bar_.diamond) diamond(*bar_.diamond);
    }

private:
    [[nodiscard]] double middle() const { return box_.center().y(); }
    [[nodiscard]] double at(double value) const {
        const double share = bar_.axis.span() > 0.0 ? (value - bar_.axis.from) / bar_.axis.span() : 0.5;
        return box_.left() + std::clamp(share, 0.0, 1.0) * box_.width();
    }
    void stretch(Range range, double height, const QColor& colour) const {
        painter_.setPen(Qt::NoPen);
        painter_.setBrush(colour);
        const double left = at(range.from);
        painter_.drawRoundedRect(QRectF(left, middle() - height / 2.0, std::max(2.0, at(range.to) - left), height), 2.0,
                                 2.0);
    }
    void line(double value, const QPen& pen, double height) const {
        painter_.setPen(pen);
        painter_.drawLine(QPointF(at(value), middle() - height / 2.0 - 1.0),
                          QPointF(at(value), middle() + height / 2.0 + 1.0));
    }
    void diamond(double value) const {
        const double x = at(value);
        painter_.setPen(QPen(look_.ground, 1.0));
        painter_.setBrush(bar_.outside ? look_.warn : look_.ink);
        painter_.drawPolygon(QPolygonF({{x, middle() - diamondSize},
                                        {x + diamondSize, middle()},
                                        {x, middle() + diamondSize},
                                        {x - diamondSize, middle()}}));
    }

    QPainter& painter_;
    QRectF box_;
    const BarCell& bar_;
    const Look& look_;
};

} // namespace

void BarDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const QVariant bar = index.data(BarCellRole);
    const bool wraps = index.column() == wrapped_;
    if (!bar.canConvert<BarCell>() && !wraps) return FigureDelegate::paint(painter, option, index);
    const Look& look = Look::of(option.palette);
    painter->save();
    if (option.state & (QStyle::State_Selected | QStyle::State_MouseOver)) painter->fillRect(option.rect, look.wash);
    if (wraps) {
        painter->setFont(font(Type::Small));
        const QVariant tone = index.data(ToneRole);
        painter->setPen(toneColour(look, tone.isValid() ? static_cast<Tone>(tone.toInt()) : Tone::Ink));
        painter->drawText(option.rect.adjusted(padding, 0, -padding, 0), Qt::AlignVCenter | Qt::TextWordWrap,
                          index.data(Qt::DisplayRole).toString());
    } else {
        BarPainter(*painter, QRectF(option.rect).adjusted(padding, 0.0, -padding, 0.0), bar.value<BarCell>(), look)
            .paint();
    }
    painter->restore();
}

QSize BarDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const QSize usual = FigureDelegate::sizeHint(option, index);
    if (index.data(BarCellRole).canConvert<BarCell>()) return {barWidth, usual.height()};
    const auto* table = qobject_cast<const QTableView*>(option.widget);
    if (index.column() != wrapped_ || table == nullptr) return usual;
    const int width = table->columnWidth(wrapped_) - 2 * padding;
    const QRect needed = QFontMetrics(font(Type::Small))
                             .boundingRect(QRect(0, 0, std::max(width, 10), 1000), Qt::TextWordWrap,
                                           index.data(Qt::DisplayRole).toString());
    return {usual.width(), std::max(usual.height(), needed.height() + wrapPadding)};
}

void BarTableModel::setTable(TaughtTable table) {
    bars_ = std::move(table.bars);
    source_ = std::move(table.source);
    barColumn_ = table.barColumn;
    setRows(table.header, std::move(table.rows));
}

QVariant BarTableModel::data(const QModelIndex& index, int role) const {
    if (role != BarCellRole || index.column() != barColumn_) return ValueTableModel::data(index, role);
    const std::optional<BarCell>* bar = atRow(bars_, index.row());
    return bar && *bar ? QVariant::fromValue(**bar) : QVariant();
}

Qt::ItemFlags BarTableModel::flags(const QModelIndex& index) const {
    return sourceOf(index.row()) < 0 ? Qt::ItemFlags(Qt::ItemIsEnabled) : ValueTableModel::flags(index);
}

int BarTableModel::sourceOf(int row) const {
    const int* source = atRow(source_, row);
    return source ? *source : -1;
}

BarTable::BarTable(const QString& name, int leftColumns, int stretched)
    : rows_(new BarTableModel(leftColumns, this))
    , delegate_(new BarDelegate(this))
    , stretched_(stretched) {
    setModel(rows_);
    setItemDelegate(delegate_);
    delegate_->setWrapped(stretched);
    setAccessibleName(name);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    const auto tell = [this](int row) {
        if (rows_->sourceOf(row) >= 0) emit chosen(rows_->sourceOf(row));
    };
    connect(this, &QTableView::clicked, this, [tell](const QModelIndex& index) { tell(index.row()); });
    connect(this, &FigureTable::rowActivated, this, tell);
}

void BarTable::setTable(TaughtTable table) {
    const int bars = table.barColumn;
    std::vector<int> dividers;
    for (std::size_t row = 0; row < table.source.size(); ++row)
        if (table.source[row] < 0) dividers.push_back(static_cast<int>(row));
    clearSpans();
    rows_->setTable(std::move(table));
    for (const int row : dividers)
        setSpan(row, 0, 1, rows_->columnCount());
    QHeaderView& head = *horizontalHeader();
    head.setSectionResizeMode(QHeaderView::ResizeToContents);
    head.setStretchLastSection(false);
    const int stretch = stretched_ >= 0 ? stretched_ : bars;
    if (stretch >= 0 && stretch < rows_->columnCount()) head.setSectionResizeMode(stretch, QHeaderView::Stretch);
    fit();
}

void BarTable::resizeEvent(QResizeEvent* event) {
    FigureTable::resizeEvent(event);
    if (event->oldSize().width() != event->size().width()) fit();
}

void BarTable::fit() {
    if (stretched_ >= 0) resizeRowsToContents();
    fitToRows(*this);
}

} // namespace rw
