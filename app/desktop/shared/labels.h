// Small texts of the window in their type roles. All are plain text: nothing that a person typed is read as markup.
#pragma once

#include "plotting/look.h"

#include <QAbstractButton>
#include <QLabel>
#include <QString>
#include <QWidget>

class QFrame;

namespace rw {

// How a text is coloured; follows light and dark by itself.
enum class Tone { Ink, Soft, Accent, Warn, Bad };

class TextLabel : public QLabel {
    Q_OBJECT
public:
    explicit TextLabel(const QString& text, Type type = Type::Body, Tone tone = Tone::Ink, QWidget* parent = nullptr);
    void setTone(Tone tone);

protected:
    void changeEvent(QEvent* event) override;

private:
    void recolour();
    Tone tone_;
};

// A text that is wrapped.
[[nodiscard]] TextLabel* paragraph(const QString& text = {}, Type type = Type::Body, Tone tone = Tone::Ink);

// Why a dialog does not close yet; hidden until there is something to say.
class ComplaintLabel : public TextLabel {
    Q_OBJECT
public:
    ComplaintLabel();
    void say(const QString& sentence);
};

// One line whose end is shortened with "…" where there is no room; the whole text is in the tool tip then.
class ShortLabel : public QWidget {
    Q_OBJECT
public:
    explicit ShortLabel(Type type = Type::Body, Tone tone = Tone::Ink, QWidget* parent = nullptr);
    void setText(const QString& strong, const QString& rest = {});
    [[nodiscard]] QString text() const { return strong_ + rest_; }
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {5 * gridStep, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    bool event(QEvent* event) override;

private:
    [[nodiscard]] double fullWidth() const;
    Type type_;
    Tone tone_;
    QString strong_, rest_;
};

// A figure with its unit in a lighter weight, and a softer note behind it: "42.8 m/s  41.3 … 44.1".
class FigureLabel : public QWidget {
    Q_OBJECT
public:
    explicit FigureLabel(Type type);
    void setFigure(const QString& figure, const QString& unit = {}, const QString& note = {});
    [[nodiscard]] QString text() const;
    void setAlignment(Qt::Alignment alignment);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    Type type_;
    Qt::Alignment alignment_ = Qt::AlignRight;
    QString figure_, unit_, note_;
};

[[nodiscard]] QColor toneColour(const Look& look, Tone tone);
// A thin horizontal or vertical rule.
[[nodiscard]] QFrame* thinRule(Qt::Orientation orientation, QWidget* parent = nullptr);

// A heading that folds what is under it: title left, a summary in soft ink right. Space, Enter or a click turns it.
class FoldHead : public QAbstractButton {
    Q_OBJECT
public:
    // small: for "more" inside a group.
    FoldHead(const QString& title, bool small);
    void setSummary(const QString& summary);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString summary_;
    bool small_;
};

} // namespace rw
