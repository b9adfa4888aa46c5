#include "plotting/export.h"

#include "core/error.h"

#include <QAction>
#include <QApplication>
#include <QClipboard>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QPainter>
#include <QPdfWriter>
#include <QPixmap>
#include <QSaveFile>
#include <QSvgGenerator>
#include <QWidget>

#include <cmath>

namespace rw {

namespace {

[[noreturn]] void cannotWrite(const QString& path, const QString& why) {
    throw InputError(QDir::toNativeSeparators(path).toStdString(),
                     QStringLiteral("cannot be written (%1); choose another place").arg(why).toStdString());
}

void paintSvg(const Drawing& drawing, QIODevice& device) {
    QSvgGenerator generator;
    generator.setOutputDevice(&device);
    generator.setSize(drawing.size);
    generator.setViewBox(QRect(QPoint(0, 0), drawing.size));
    generator.setResolution(96); // one unit a logical pixel
    generator.setTitle(drawing.name);
    QPainter painter(&generator);
    painter.fillRect(QRect(QPoint(0, 0), drawing.size), drawing.ground);
    drawing.paint(painter, QRectF(QPointF(0, 0), QSizeF(drawing.size)));
}

void paintPdf(const Drawing& drawing, QIODevice& device) {
    constexpr int resolution = 1200; // dots per inch, so that coordinates keep enough digits
    constexpr double pixelsPerInch = 96.0;
    QPdfWriter writer(&device);
    writer.setTitle(drawing.name);
    writer.setResolution(resolution);
    const QSizeF inches(drawing.size.width() / pixelsPerInch, drawing.size.height() / pixelsPerInch);
    writer.setPageSize(QPageSize(inches, QPageSize::Inch, QString(), QPageSize::ExactMatch));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    QPainter painter(&writer);
    painter.scale(resolution / pixelsPerInch, resolution / pixelsPerInch);
    drawing.paint(painter, QRectF(QPointF(0, 0), QSizeF(drawing.size)));
}

} // namespace

QPixmap drawingPixmap(const Drawing& drawing, double scale) {
    QPixmap pixmap((QSizeF(drawing.size) * scale).toSize());
    pixmap.setDevicePixelRatio(scale);
    pixmap.fill(drawing.ground);
    QPainter painter(&pixmap);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
    drawing.paint(painter, QRectF(QPointF(0, 0), QSizeF(drawing.size)));
    return pixmap;
}

void exportDrawing(const Drawing& drawing, const QString& path) {
    const QString suffix = QFileInfo(path).suffix().toLower();
    if (suffix != QLatin1String("png") && suffix != QLatin1String("svg") && suffix != QLatin1String("pdf") &&
        suffix != QLatin1String("csv")) {
        throw InputError(QDir::toNativeSeparators(path).toStdString(),
                         "the ending is not known; use .png, .svg, .pdf or .csv");
    }
    QSaveFile file(path); // the old file stays whole until the new one is
    if (!file.open(QIODevice::WriteOnly)) cannotWrite(path, file.errorString());
    if (suffix == QLatin1String("png")) {
        if (!drawingPixmap(drawing, 2.0).save(&file, "PNG")) cannotWrite(path, file.errorString());
    } else if (suffix == QLatin1String("svg")) {
        paintSvg(drawing, file);
    } else if (suffix == QLatin1String("pdf")) {
        paintPdf(drawing, file);
    } else {
        file.write(drawing.csv().toUtf8());
    }
    if (!file.commit()) cannotWrite(path, file.errorString());
}

namespace {

void askAndExport(QWidget* widget, const Drawing& drawing) {
    const QString filter = QObject::tr("Picture (*.png);;Drawing (*.svg);;Page (*.pdf);;Numbers (*.csv)");
    QString chosen;
    QString path = QFileDialog::getSaveFileName(widget, QObject::tr("Export chart"), drawing.name, filter, &chosen);
    if (path.isEmpty()) return;
    if (QFileInfo(path).suffix().isEmpty()) path += chosen.mid(chosen.indexOf(QLatin1Char('*')) + 1, 4);
    try {
        exportDrawing(drawing, path);
    } catch (const InputError& error) {
        QMessageBox box(QMessageBox::Warning, QObject::tr("Not exported"), QString(), QMessageBox::Ok, widget);
        box.setTextFormat(Qt::PlainText);
        box.setText(QString::fromStdString(error.what()));
        box.exec();
    }
}

} // namespace

void offerExport(QWidget& widget, const std::function<Drawing()>& drawing) {
    const auto offer = [&widget](const QString& words, const std::function<void()>& action) {
        QObject::connect(widget.addAction(words), &QAction::triggered, &widget, action);
    };
    offer(QObject::tr("Copy picture"),
          [drawing] { QApplication::clipboard()->setPixmap(drawingPixmap(drawing(), 2.0)); });
    widget.actions().last()->setShortcut(QKeySequence::Copy);
    widget.actions().last()->setShortcutContext(Qt::WidgetShortcut);
    offer(QObject::tr("Copy numbers"), [drawing] { QApplication::clipboard()->setText(drawing().csv()); });
    offer(QObject::tr("Export chart…"), [&widget, drawing] { askAndExport(&widget, drawing()); });
    widget.setContextMenuPolicy(Qt::ActionsContextMenu);
}

QString csvLine(const QStringList& cells) {
    QStringList quoted;
    for (QString cell : cells) {
        const bool needed = cell.contains(QLatin1Char(',')) || cell.contains(QLatin1Char('"')) ||
                            cell.contains(QLatin1Char('\n')) || cell.contains(QLatin1Char('\r'));
        if (needed) cell = QLatin1Char('"') + cell.replace(QLatin1Char('"'), QLatin1String("\"\"")) + QLatin1Char('"');
        quoted << cell;
    }
    return quoted.join(QLatin1Char(',')) + QLatin1String("\r\n");
}

QString csvNumber(double value) {
    return std::isfinite(value) ? QString::number(value, 'g', QLocale::FloatingPointShortest) : QString();
}

} // namespace rw
