//! The sheet that a drawing is made on: lines, areas, texts and dimensions in mm, y downwards.

use super::Drawing;
use super::look::{Fill, Look, Stroke, shown, width_in_em};
use crate::markup::escaped;
use std::fmt::Write as _;

/// A place on the sheet, in mm from its upper left corner.
pub(super) type At = (f64, f64);

/// The smallest text, in mm.
pub(super) const SMALL: f64 = 2.3;
/// Ordinary text, in mm.
pub(super) const TEXT: f64 = 2.7;
/// More than this many bytes are no drawing that a page should hold.
const LONGEST: usize = 290_000;

/// Where a text is anchored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Style {
    pub(super) size: f64,
    pub(super) anchor: Anchor,
    pub(super) bold: bool,
    /// Reads from bottom to top.
    pub(super) upward: bool,
}

impl Style {
    pub(super) const fn new(size: f64, anchor: Anchor) -> Self {
        Self { size, anchor, bold: false, upward: false }
    }

    pub(super) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(super) const fn upward(self) -> Self {
        Self { upward: true, ..self }
    }
}

/// An upright rectangle: left, top, right, bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area(pub(super) f64, pub(super) f64, pub(super) f64, pub(super) f64);

impl Area {
    fn meets(&self, other: &Self) -> bool {
        self.0 < other.2 && other.0 < self.2 && self.1 < other.3 && other.1 < self.3
    }

    /// What a text covers.
    pub(super) fn of_text((x, y): At, style: Style, text: &str) -> Self {
        // Bold letters are wider.
        let long = width_in_em(text) * style.size * if style.bold { 1.08 } else { 1.0 };
        let (up, down) = (style.size * 0.8, style.size * 0.25);
        let from = match style.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => long / 2.0,
            Anchor::End => long,
        };
        if style.upward {
            Self(x - up, y - long + from, x + down, y + from)
        } else {
            Self(x - from, y - up, x - from + long, y + down)
        }
    }
}

/// What is drawn so far.
pub(super) struct Sheet<'a> {
    pub(super) look: &'a Look,
    name: String,
    title: String,
    description: String,
    width: f64,
    height: f64,
    /// How much is cut off at the top.
    top: f64,
    body: String,
    taken: Vec<Area>,
    broken: bool,
}

impl<'a> Sheet<'a> {
    pub(super) fn new(
        look: &'a Look,
        name: &str,
        (width, height): (f64, f64),
        title: String,
        description: String,
    ) -> Self {
        Self {
            look,
            name: name.to_owned(),
            title,
            description,
            width,
            height,
            top: 0.0,
            body: String::new(),
            taken: Vec::new(),
            broken: false,
        }
    }

    /// A number of an attribute; what is no sensible place on a sheet spoils the drawing, which then says so.
    fn n(&mut self, value: f64) -> String {
        if !value.is_finite() || 20_000.0 < value.abs() {
            self.broken = true;
            return "0".to_owned();
        }
        let text = format!("{value:.2}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" { "0".to_owned() } else { text.to_owned() }
    }

    fn put(&mut self, text: &str) {
        self.body.push_str(text);
        self.body.push('\n');
    }

    fn stroke_of(&mut self, stroke: Stroke) -> String {
        let colour = if stroke == Stroke::Accent { self.look.accent() } else { self.look.line_colour() };
        match stroke.width_and_dashes() {
            _ if stroke == Stroke::None => "stroke=\"none\"".to_owned(),
            (width, "") => format!("stroke=\"{colour}\" stroke-width=\"{width}\""),
            (width, dashes) => format!("stroke=\"{colour}\" stroke-width=\"{width}\" stroke-dasharray=\"{dashes}\""),
        }
    }

    fn pattern_id(&self, which: &str) -> String {
        format!("{}{}-{which}", self.look.id_prefix(), self.name)
    }

    fn fill_of(&self, fill: Fill) -> String {
        let line = self.look.line_colour();
        match (fill, self.look.tint(fill)) {
            (_, Some(tint)) => format!("fill=\"{line}\" fill-opacity=\"{tint}\""),
            (Fill::Ground, _) => format!("fill=\"url(#{})\"", self.pattern_id("ground")),
            (Fill::Dense, _) => format!("fill=\"url(#{})\"", self.pattern_id("dense")),
            (Fill::Solid, _) => format!("fill=\"{line}\""),
            _ => "fill=\"none\"".to_owned(),
        }
    }

    pub(super) fn line(&mut self, (x1, y1): At, (x2, y2): At, stroke: Stroke) {
        let (x1, y1, x2, y2) = (self.n(x1), self.n(y1), self.n(x2), self.n(y2));
        let stroke = self.stroke_of(stroke);
        self.put(&format!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" {stroke}/>"));
    }

    /// A rectangle by its corners, in any order.
    pub(super) fn rect(&mut self, (x1, y1): At, (x2, y2): At, stroke: Stroke, fill: Fill) {
        let (x, y) = (self.n(x1.min(x2)), self.n(y1.min(y2)));
        let (w, h) = (self.n((x2 - x1).abs()), self.n((y2 - y1).abs()));
        let (stroke, fill) = (self.stroke_of(stroke), self.fill_of(fill));
        self.put(&format!("<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" {fill} {stroke}/>"));
    }

    pub(super) fn circle(&mut self, (x, y): At, radius: f64, stroke: Stroke, fill: Fill) {
        let (x, y, r) = (self.n(x), self.n(y), self.n(radius));
        let (stroke, fill) = (self.stroke_of(stroke), self.fill_of(fill));
        self.put(&format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" {fill} {stroke}/>"));
    }

    fn joined(&mut self, points: &[At]) -> String {
        let mut text = String::new();
        for (x, y) in points {
            let (x, y) = (self.n(*x), self.n(*y));
            // Writing into a string cannot fail.
            let _ = write!(text, "{x},{y} ");
        }
        text.trim_end().to_owned()
    }

    pub(super) fn polygon(&mut self, points: &[At], stroke: Stroke, fill: Fill) {
        let text = self.joined(points);
        let (stroke, fill) = (self.stroke_of(stroke), self.fill_of(fill));
        self.put(&format!("<polygon points=\"{text}\" {fill} {stroke}/>"));
    }

    pub(super) fn polyline(&mut self, points: &[At], stroke: Stroke) {
        let text = self.joined(points);
        let stroke = self.stroke_of(stroke);
        self.put(&format!("<polyline points=\"{text}\" fill=\"none\" {stroke}/>"));
    }

    /// A curve bent by one control point, as a hose hangs.
    pub(super) fn bend(&mut self, from: At, by: At, to: At, stroke: Stroke) {
        let text = [from, by, to].map(|(x, y)| format!("{} {}", self.n(x), self.n(y)));
        let stroke = self.stroke_of(stroke);
        let [from, by, to] = text;
        self.put(&format!("<path d=\"M {from} Q {by} {to}\" fill=\"none\" {stroke}/>"));
    }

    /// The symbol of a centre of gravity: a circle with two opposite quarters filled.
    pub(super) fn centre_of_gravity(&mut self, (x, y): At, radius: f64) {
        let r = radius;
        let line = self.look.line_colour();
        let [cx, cy, left, right, top, bottom, r] = [x, y, x - r, x + r, y - r, y + r, r].map(|value| self.n(value));
        self.put(&format!(
            "<path d=\"M {cx} {cy} L {cx} {top} A {r} {r} 0 0 1 {right} {cy} Z M {cx} {cy} L {cx} {bottom} A {r} {r} 0 0 1 {left} {cy} Z\" fill=\"{line}\" stroke=\"none\"/>"
        ));
        self.circle((x, y), radius, Stroke::Medium, Fill::Open);
    }

    /// A filled arrow head with its tip here, pointing along a direction.
    pub(super) fn arrow_head(&mut self, tip: At, (dx, dy): At, length: f64) {
        let long = (dx * dx + dy * dy).sqrt();
        if long <= 0.0 {
            return;
        }
        let (ux, uy) = (dx / long, dy / long);
        let (bx, by) = (tip.0 - ux * length, tip.1 - uy * length);
        let half = length * 0.2;
        self.polygon(
            &[tip, (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half)],
            Stroke::None,
            Fill::Solid,
        );
    }

    /// A line with an arrow head at its end.
    pub(super) fn arrow(&mut self, from: At, to: At, stroke: Stroke, head: f64) {
        let direction = (to.0 - from.0, to.1 - from.1);
        let long = (direction.0 * direction.0 + direction.1 * direction.1).sqrt();
        if 0.0 < long {
            let part = (1.0 - head * 0.8 / long).max(0.0);
            self.line(from, (from.0 + direction.0 * part, from.1 + direction.1 * part), stroke);
        }
        self.arrow_head(to, direction, head);
    }

    /// A text of our own words, in which names already went through [`shown`].
    pub(super) fn text(&mut self, at: At, style: Style, text: &str) {
        self.titled(at, style, text, None);
    }

    /// A text, and the whole name behind it where that was cut.
    pub(super) fn name(&mut self, at: At, style: Style, (before, name, after): (&str, &str, &str), most_em: f64) {
        let short = shown(name, most_em);
        let whole = short.ends_with("\u{2026}\u{2069}").then(|| shown(name, 240.0));
        self.titled(at, style, &format!("{before}{short}{after}"), whole.as_deref());
    }

    fn titled(&mut self, (x, y): At, style: Style, text: &str, whole: Option<&str>) {
        self.taken.push(Area::of_text((x, y), style, text));
        let (x, y, size) = (self.n(x), self.n(y), self.n(style.size));
        let anchor = match style.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if style.bold { " font-weight=\"bold\"" } else { "" };
        let turn = if style.upward { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
        let colour = self.look.line_colour();
        let title = whole.map(|whole| format!("<title>{}</title>", escaped(whole))).unwrap_or_default();
        let text = escaped(text);
        self.put(&format!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{weight}{turn} fill=\"{colour}\">{title}{text}</text>"
        ));
    }

    /// Marks a place as taken, so that no label is put over it.
    pub(super) fn take(&mut self, area: Area) {
        self.taken.push(area);
    }

    /// Whether nothing stands here yet, and it lies on the sheet.
    pub(super) fn is_free(&self, area: &Area) -> bool {
        let inside =
            0.5 <= area.0 && self.top + 0.5 <= area.1 && area.2 <= self.width - 0.5 && area.3 <= self.height - 0.5;
        inside && !self.taken.iter().any(|taken| taken.meets(area))
    }

    /// A horizontal dimension at the height y, its text above the line; false if there is no room for the text.
    pub(super) fn dimension_across(&mut self, (x1, x2): (f64, f64), (from, y): (f64, f64), text: &str) -> bool {
        for x in [x1, x2] {
            self.line((x, from), (x, y + 1.2), Stroke::Thin);
        }
        self.line((x1, y), (x2, y), Stroke::Thin);
        self.heads((x1, y), (x2, y));
        let style = Style::new(SMALL, Anchor::Middle);
        let middle = f64::midpoint(x1, x2);
        self.first_free(style, text, &[(middle, y - 0.7), (middle, y + 2.6)])
    }

    /// An upright dimension at x, its text to the left and reading upwards; false if there is no room for the text.
    pub(super) fn dimension_up(&mut self, (y1, y2): (f64, f64), (from, x): (f64, f64), text: &str) -> bool {
        let over = if from < x { 1.2 } else { -1.2 };
        for y in [y1, y2] {
            self.line((from, y), (x + over, y), Stroke::Thin);
        }
        self.line((x, y1), (x, y2), Stroke::Thin);
        self.heads((x, y1), (x, y2));
        self.take(Area(x - 0.1, y1.min(y2), x + 0.1, y1.max(y2)));
        let middle = f64::midpoint(y1, y2);
        let long = width_in_em(text) * SMALL;
        if long < (y2 - y1).abs() {
            return self.first_free(
                Style::new(SMALL, Anchor::Middle).upward(),
                text,
                &[(x - 0.7, middle), (x + 2.4, middle)],
            );
        }
        let beside = if from < x { x + 0.9 } else { x - 0.9 };
        let anchor = if from < x { Anchor::Start } else { Anchor::End };
        let places = [0.0, 2.6, -2.6, 5.2, -5.2].map(|by| (beside, middle + 0.8 + by));
        if self.first_free(Style::new(SMALL, anchor), text, &places) {
            return true;
        }
        // Beyond the arrow heads, reading along the line.
        let least = y1.min(y2) - 4.0 - long / 2.0;
        self.first_free(Style::new(SMALL, Anchor::Middle).upward(), text, &[(x - 0.7, least), (x + 2.4, least)])
    }

    /// Arrow heads inside a dimension, or outside where it is short.
    fn heads(&mut self, a: At, b: At) {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let long = (dx * dx + dy * dy).sqrt();
        if long < 0.05 {
            return;
        }
        let (ux, uy) = (dx / long, dy / long);
        let inside = 4.5 < long;
        let sign = if inside { 1.0 } else { -1.0 };
        self.arrow_head(a, (-ux * sign, -uy * sign), 1.8);
        self.arrow_head(b, (ux * sign, uy * sign), 1.8);
        if !inside {
            self.line((a.0 - ux * 3.0, a.1 - uy * 3.0), a, Stroke::Thin);
            self.line(b, (b.0 + ux * 3.0, b.1 + uy * 3.0), Stroke::Thin);
        }
    }

    /// Puts a text at the first of some places where nothing stands.
    pub(super) fn first_free(&mut self, style: Style, text: &str, places: &[At]) -> bool {
        let free = places.iter().find(|at| self.is_free(&Area::of_text(**at, style, text)));
        free.copied().is_some_and(|at| {
            self.text(at, style, text);
            true
        })
    }

    /// Puts sentences under each other, broken between words; gives the height that is then reached.
    pub(super) fn notes(&mut self, (x, y): At, width: f64, notes: &[String]) -> f64 {
        let mut at = y;
        for line in notes.iter().flat_map(|note| wrapped(note, width / SMALL)) {
            self.text((x, at), Style::new(SMALL, Anchor::Start), &line);
            at += SMALL * 1.45;
        }
        at
    }

    /// Makes the sheet higher or lower, before or after things were put on it.
    pub(super) fn set_height(&mut self, height: f64) {
        self.height = height;
    }

    /// Leaves out the uppermost part of the sheet, where nothing stands.
    pub(super) fn crop_top(&mut self, top: f64) {
        self.top = top;
    }

    /// The drawing, or one that says why there is none.
    pub(super) fn finish(mut self) -> Drawing {
        if self.broken {
            return self.apology("These figures cannot be drawn to scale.");
        }
        if LONGEST < self.body.len() {
            return self.apology("This has too many parts for a drawing.");
        }
        let svg = self.svg();
        Drawing { name: self.name, title: self.title, description: self.description, svg }
    }

    fn apology(self, why: &str) -> Drawing {
        let mut sheet = Sheet::new(self.look, &self.name, (120.0, 16.0), self.title, why.to_owned());
        sheet.text((4.0, 9.0), Style::new(TEXT, Anchor::Start), why);
        let svg = sheet.svg();
        Drawing { name: sheet.name, title: sheet.title, description: sheet.description, svg }
    }

    fn svg(&mut self) -> String {
        let (w, top, h) = (self.n(self.width), self.n(self.top), self.n(self.height - self.top));
        let (title_id, desc_id) = (self.pattern_id("title"), self.pattern_id("desc"));
        let (title, desc) = (escaped(&self.title), escaped(&self.description));
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 {top} {w} {h}\" role=\"img\" aria-labelledby=\"{title_id} {desc_id}\" font-family=\"sans-serif\">\n<title id=\"{title_id}\">{title}</title>\n<desc id=\"{desc_id}\">{desc}</desc>\n"
        );
        if let Some(page) = self.look.background() {
            let _ = writeln!(out, "<rect x=\"0\" y=\"{top}\" width=\"{w}\" height=\"{h}\" fill=\"{page}\"/>");
        }
        let line = self.look.line_colour();
        for (which, step, width) in [("ground", 2.0, 0.18), ("dense", 1.0, 0.25)] {
            let id = self.pattern_id(which);
            if self.body.contains(&format!("url(#{id})")) {
                let _ = writeln!(
                    out,
                    "<defs><pattern id=\"{id}\" width=\"{step}\" height=\"{step}\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"{step}\" stroke=\"{line}\" stroke-width=\"{width}\"/></pattern></defs>"
                );
            }
        }
        out.push_str(&self.body);
        out.push_str("</svg>\n");
        out
    }
}

/// Breaks a sentence into lines of a width in parts of the text's size.
fn wrapped(text: &str, width_em: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if width_in_em(line) + width_in_em(word) + 0.6 <= width_em => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
