//! Drawings, read from the few elements of SVG that they are made of. What is none of these is refused, so that nothing is
//! left out unseen and no file or address is ever asked for.

use crate::PdfError;
use crate::layout::desk::{Desk, refused};
use crate::layout::fonts::Face;
use crate::layout::ink::{Ink, MM, Mark};
use crate::layout::lines::Piece;
use crate::layout::outline::{At, circle, lines, path, rectangle};
use crate::layout::shape::Run;
use crate::layout::tags::{Part, Tag};
use crate::layout::turned::{runs_of, turns, without_controls};
use crate::layout::words::printable;
use krilla::geom::Path;
use ramwright_report::document::Figure;
use roxmltree::{Node, ParsingOptions};
use std::borrow::Cow;
use std::rc::Rc;

/// A colour as red, green and blue.
pub(crate) type Colour = [u8; 3];

/// With what an area is filled.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Filling {
    None,
    Colour {
        colour: Colour,
        opacity: f32,
    },
    /// Lines at half a right angle.
    Hatch {
        step: f32,
        width: f32,
        colour: Colour,
    },
}

/// A line of a drawing.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    pub(crate) colour: Colour,
    pub(crate) width: f32,
    pub(crate) dashes: Vec<f32>,
}

/// What a drawing is made of, in its own units.
pub(crate) enum Shape {
    Area { path: Path, filling: Filling, line: Option<Line>, bounds: [f32; 4] },
    Text { runs: Vec<Run>, at: At, size: f32, colour: Colour, upward: bool },
}

/// A drawing.
pub(crate) struct Drawing {
    /// Its size in points.
    pub(crate) width: f32,
    pub(crate) height: f32,
    /// Left, top, width and height of what it shows, in its own units.
    pub(crate) view: [f32; 4],
    pub(crate) shapes: Vec<Shape>,
}

/// A drawing as wide as is asked for, or as it is by itself; never wider or higher than the room.
pub(crate) fn picture(
    desk: &Desk,
    of: Tag,
    figure: &Figure,
    (wide, room): (Option<f32>, f32),
    high: f32,
) -> Result<Piece, PdfError> {
    let drawing = read(desk, &figure.svg)?;
    let wanted = wide.unwrap_or(drawing.width).min(room);
    let scale = (wanted / drawing.width).min(high / drawing.height);
    let (width, height) = (drawing.width * scale, drawing.height * scale);
    let tag = desk.part(of, Part::Figure { description: figure.description.clone() });
    let mark = Mark { x: 0.0, y: -height, tag, ink: Ink::Picture { drawing: Rc::new(drawing), scale } };
    Ok(Piece { width, ascent: height, descent: 0.0, marks: vec![mark] })
}

struct Reader<'a> {
    desk: &'a Desk,
    hatches: Vec<(String, Filling)>,
    shapes: Vec<Shape>,
}

fn read(desk: &Desk, svg: &str) -> Result<Drawing, PdfError> {
    let options = ParsingOptions { allow_dtd: false, ..ParsingOptions::default() };
    let document = roxmltree::Document::parse_with_options(svg, options)
        .map_err(|error| refused(format!("a drawing: {error}")))?;
    let root = document.root_element();
    let view: Vec<f32> = numbers(root.attribute("viewBox").unwrap_or_default())?;
    let [left, top, across, down] = *view.as_slice() else { return Err(refused("a drawing has no view")) };
    let length = |name| root.attribute(name).and_then(|text| text.strip_suffix("mm")).map(number);
    let (Some(width), Some(height)) = (length("width"), length("height")) else {
        return Err(refused("a drawing has no size in mm"));
    };
    let (width, height) = (width? * MM, height? * MM);
    if !(0.0 < width && 0.0 < height && 0.0 < across && 0.0 < down) {
        return Err(refused("a drawing has no size"));
    }
    let mut reader = Reader { desk, hatches: Vec::new(), shapes: Vec::new() };
    for node in root.children().filter(Node::is_element) {
        reader.element(node)?;
    }
    Ok(Drawing { width, height, view: [left, top, across, down], shapes: reader.shapes })
}

impl Reader<'_> {
    fn element(&mut self, node: Node<'_, '_>) -> Result<(), PdfError> {
        let [x, y] = [length(node, "x")?, length(node, "y")?];
        match node.tag_name().name() {
            "title" | "desc" => Ok(()),
            "defs" => node.children().filter(Node::is_element).try_for_each(|node| self.pattern(node)),
            "line" => {
                let ends = [(length(node, "x1")?, length(node, "y1")?), (length(node, "x2")?, length(node, "y2")?)];
                self.area(node, lines(&ends, false), &["x1", "y1", "x2", "y2"])
            }
            "rect" => {
                let shape = rectangle((x, y), length(node, "width")?, length(node, "height")?);
                self.area(node, shape, &["x", "y", "width", "height"])
            }
            "circle" => {
                let shape = circle((length(node, "cx")?, length(node, "cy")?), length(node, "r")?);
                self.area(node, shape, &["cx", "cy", "r"])
            }
            name @ ("polygon" | "polyline") => {
                let coordinates = numbers(node.attribute("points").unwrap_or_default())?;
                let points: Vec<At> =
                    coordinates.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?))).collect();
                self.area(node, lines(&points, name == "polygon"), &["points"])
            }
            "path" => self.area(node, path(node.attribute("d").unwrap_or_default())?, &["d"]),
            "text" => self.text(node, (x, y)),
            other => Err(refused(format!("a drawing holds <{other}>"))),
        }
    }

    fn area(&mut self, node: Node<'_, '_>, shape: (Option<Path>, [f32; 4]), own: &[&str]) -> Result<(), PdfError> {
        known(node, own, &["fill", "fill-opacity", "stroke", "stroke-width", "stroke-dasharray"])?;
        let filling = self.filling(node)?;
        let line = line(node)?;
        if let (Some(path), bounds) = shape {
            self.shapes.push(Shape::Area { path, filling, line, bounds });
        }
        Ok(())
    }

    fn filling(&self, node: Node<'_, '_>) -> Result<Filling, PdfError> {
        let fill = node.attribute("fill").unwrap_or(if node.has_tag_name("line") { "none" } else { "currentColor" });
        if let Some(id) = fill.strip_prefix("url(#").and_then(|rest| rest.strip_suffix(')')) {
            let hatch = self.hatches.iter().find(|(name, _)| name == id);
            return hatch.map(|(_, hatch)| hatch.clone()).ok_or_else(|| refused("a drawing lacks a pattern"));
        }
        let opacity = node.attribute("fill-opacity").map_or(Ok(1.0), number)?;
        Ok(colour(fill)?.map_or(Filling::None, |colour| Filling::Colour { colour, opacity }))
    }

    /// A hatching: one upright line, turned by half a right angle.
    fn pattern(&mut self, node: Node<'_, '_>) -> Result<(), PdfError> {
        let inner: Vec<_> = node.children().filter(Node::is_element).collect();
        let turned = node.attribute("patternTransform") == Some("rotate(45)");
        let ([inner], true, true) = (inner.as_slice(), turned, node.has_tag_name("pattern")) else {
            return Err(refused("a drawing has a pattern that is no hatching"));
        };
        let drawn = line(*inner)?.filter(|_| inner.has_tag_name("line"));
        let (Some(line), step) = (drawn, length(node, "width")?) else {
            return Err(refused("a drawing has a hatching without lines"));
        };
        if step <= 0.1 {
            return Err(refused("a drawing has a hatching without steps"));
        }
        // Half of the line lies outside of the pattern.
        let hatch = Filling::Hatch { step, width: line.width / 2.0, colour: line.colour };
        self.hatches.push((node.attribute("id").unwrap_or_default().to_owned(), hatch));
        Ok(())
    }

    fn text(&mut self, node: Node<'_, '_>, at: At) -> Result<(), PdfError> {
        known(node, &["x", "y", "fill", "transform"], &["font-size", "font-weight", "text-anchor"])?;
        let words: String = node.children().filter(Node::is_text).filter_map(|child| child.text()).collect();
        let words = printable(&words);
        let face = if node.attribute("font-weight") == Some("bold") { Face::Bold } else { Face::Regular };
        let runs = if turns(&words) {
            runs_of(&words, face)
        } else {
            self.desk.shaper.word(&without_controls(Cow::Borrowed(&words)), face).runs.clone()
        };
        let size = length(node, "font-size")?;
        let width = runs.iter().map(|run| run.width).sum::<f32>() * size;
        let back = match node.attribute("text-anchor") {
            Some("middle") => width / 2.0,
            Some("end") => width,
            _ => 0.0,
        };
        let upward = match node.attribute("transform") {
            None => false,
            Some(turn) if turn.starts_with("rotate(-90 ") => true,
            Some(other) => return Err(refused(format!("a text of a drawing is turned by {other}"))),
        };
        let at = if upward { (at.0, at.1 + back) } else { (at.0 - back, at.1) };
        let colour = colour(node.attribute("fill").unwrap_or("currentColor"))?.unwrap_or_default();
        self.shapes.push(Shape::Text { runs, at, size, colour, upward });
        Ok(())
    }
}

fn known(node: Node<'_, '_>, own: &[&str], common: &[&str]) -> Result<(), PdfError> {
    let unknown = |name: &str| !own.contains(&name) && !common.contains(&name);
    match node.attributes().find(|attribute| unknown(attribute.name())) {
        Some(attribute) => Err(refused(format!("a drawing says {} of <{}>", attribute.name(), node.tag_name().name()))),
        None => Ok(()),
    }
}

fn line(node: Node<'_, '_>) -> Result<Option<Line>, PdfError> {
    let Some(colour) = colour(node.attribute("stroke").unwrap_or("none"))? else { return Ok(None) };
    let width = node.attribute("stroke-width").map_or(Ok(1.0), number)?;
    Ok(Some(Line { colour, width, dashes: numbers(node.attribute("stroke-dasharray").unwrap_or_default())? }))
}

fn colour(text: &str) -> Result<Option<Colour>, PdfError> {
    let wrong = || refused(format!("a drawing has the colour {text}"));
    match text {
        "none" => Ok(None),
        "currentColor" => Ok(Some([0, 0, 0])),
        _ => {
            let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6).ok_or_else(wrong)?;
            let whole = u32::from_str_radix(digits, 16).map_err(|_| wrong())?;
            let [_, red, green, blue] = whole.to_be_bytes();
            Ok(Some([red, green, blue]))
        }
    }
}

/// A length; none is nought.
fn length(node: Node<'_, '_>, name: &str) -> Result<f32, PdfError> {
    node.attribute(name).map_or(Ok(0.0), number)
}

fn number(text: &str) -> Result<f32, PdfError> {
    let number: Option<f32> = text.trim().parse().ok();
    number.filter(|number| number.is_finite()).ok_or_else(|| refused(format!("a drawing has {text:?} for a number")))
}

/// Numbers between spaces and commas.
pub(crate) fn numbers(text: &str) -> Result<Vec<f32>, PdfError> {
    text.split([' ', ',']).filter(|part| !part.is_empty()).map(number).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_inner(inner: &str) -> Result<Drawing, PdfError> {
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\">{inner}</svg>"
        );
        read(&Desk::new(), &svg)
    }

    #[test]
    fn verify_what_drawings_are_made_of_is_read() {
        let hatch = "<defs><pattern id=\"a\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"2\" stroke=\"#000000\" stroke-width=\"0.2\"/></pattern></defs><rect x=\"1\" y=\"1\" width=\"4\" height=\"4\" fill=\"url(#a)\"/>";
        let quarter = "<path d=\"M 5 5 L 5 3 A 2 2 0 0 1 7 5 Z\"/>";
        for inner in [
            hatch,
            quarter,
            "<text x=\"1\" y=\"1\" font-size=\"2\"><title>x</title>abc</text>",
            "<circle cx=\"3\" cy=\"3\" r=\"1\" fill=\"none\" stroke=\"#36536f\"/>",
        ] {
            assert_eq!(read_inner(inner).unwrap().shapes.len(), 1, "{inner}");
        }
    }

    #[test]
    fn verify_what_is_not_known_is_refused() {
        for inner in [
            "<image href=\"/etc/passwd\"/>",
            "<g/>",
            "<rect opacity=\"0.5\"/>",
            "<rect fill=\"red\"/>",
            "<rect fill=\"url(#none)\"/>",
            "<rect x=\"NaN\"/>",
            "<path d=\"M 0 0 A 5 5 0 0 1 9 9\"/>",
            "<path d=\"M 0 0 C 1 1 2 2 3 3\"/>",
            "<text transform=\"scale(2)\">a</text>",
        ] {
            assert!(read_inner(inner).is_err(), "{inner}");
        }
    }
}
