//! A sheet as an SVG picture: black on white, no scripts, no fonts of its own.

use std::fmt::Write;

use retrofit_core::measure::Length;

use super::lettering;
use super::sheet::{Anchor, Item, Layer, Point, Shape, Sheet, Text};

/// Nanometers in a millimeter, in which the picture is drawn.
#[expect(clippy::cast_precision_loss, reason = "a picture is drawn to the micrometer")]
fn millimeters(nanometers: i64) -> f64 {
    nanometers as f64 / 1e6
}

impl Sheet {
    /// The sheet as an SVG picture, to the scale of the sheet when printed at its own size.
    ///
    /// ```
    /// use retrofit_core::house::{AsBuilt, House};
    /// use retrofit_core::prices::UnitPrices;
    /// use retrofit_core::provisions::Library;
    /// use retrofit_core::remedy::design;
    /// use retrofit_report::drawing;
    ///
    /// let house: House = serde_json::from_str(r#"{
    ///     "format": "house-1", "name": "Quince & Lantern", "building": {"stories": 1},
    ///     "wall_lines": [{"name": "north", "length": {"measured": "24'-0\""}}]
    /// }"#)?;
    /// let house = AsBuilt::new(house).expect("the record makes sense");
    /// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the tables are in order");
    /// let remedy = design(&house, &provisions, UnitPrices::placeholder());
    ///
    /// let picture = drawing::plan(&remedy, &provisions).to_svg();
    /// assert!(picture.starts_with("<svg "));
    /// assert!(picture.contains("Quince &amp; Lantern"));
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn to_svg(&self) -> String {
        let page = Page { sheet: self };
        let width = millimeters(page.on_paper(self.paper.width()));
        let height = millimeters(page.on_paper(self.paper.height()));
        let mut svg = String::new();
        page.write(&mut svg, width, height)
            .map_or_else(|_| String::new(), |()| svg)
    }
}

struct Page<'a> {
    sheet: &'a Sheet,
}

impl Page<'_> {
    fn on_paper(&self, real: Length) -> i64 {
        real.nanometers() / self.sheet.scale.factor().max(1)
    }

    fn x(&self, x: Length) -> f64 {
        millimeters(self.on_paper(x.saturating_sub(self.sheet.paper.low.x)))
    }

    fn y(&self, y: Length) -> f64 {
        millimeters(self.on_paper(self.sheet.paper.high.y.saturating_sub(y)))
    }

    fn size(&self, length: Length) -> f64 {
        millimeters(self.on_paper(length))
    }

    fn write(&self, svg: &mut String, width: f64, height: f64) -> std::fmt::Result {
        write!(
            svg,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.1}mm\" height=\"{height:.1}mm\" \
             viewBox=\"0 0 {width:.1} {height:.1}\" role=\"img\" aria-labelledby=\"{name}-title {name}-desc\" \
             font-family=\"Arial, Helvetica, 'Liberation Sans', sans-serif\" fill=\"none\" stroke=\"#000\" \
             stroke-linecap=\"round\" stroke-linejoin=\"round\">\n\
             <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-desc\">{}</desc>\n\
             <rect width=\"{width:.1}\" height=\"{height:.1}\" fill=\"#fff\" stroke=\"none\"/>\n",
            Escaped(&self.sheet.title),
            Escaped(&self.sheet.description),
            name = Escaped(&self.sheet.name),
        )?;
        self.tints(svg)?;
        let mut open: Option<Layer> = None;
        for Item { layer, shape } in self.sheet.strokes() {
            if open != Some(layer) {
                if open.is_some() {
                    svg.push_str("</g>\n");
                }
                write!(
                    svg,
                    "<g class=\"{}\" stroke-width=\"{}\"",
                    layer.name().to_ascii_lowercase(),
                    hundredths(layer.weight()),
                )?;
                if let Some([dash, gap]) = layer.dash() {
                    write!(
                        svg,
                        " stroke-dasharray=\"{} {}\"",
                        hundredths(dash),
                        hundredths(gap)
                    )?;
                }
                svg.push_str(">\n");
                open = Some(layer);
            }
            self.shape(svg, &shape)?;
        }
        if open.is_some() {
            svg.push_str("</g>\n");
        }
        svg.push_str("</svg>\n");
        Ok(())
    }

    fn shape(&self, svg: &mut String, shape: &Shape) -> std::fmt::Result {
        match shape {
            Shape::Line(from, to) => writeln!(
                svg,
                "<path d=\"M{:.3} {:.3}L{:.3} {:.3}\"/>",
                self.x(from.x),
                self.y(from.y),
                self.x(to.x),
                self.y(to.y)
            ),
            Shape::Polyline { points, is_closed } => self.path(svg, points, *is_closed, ""),
            Shape::Solid(points) => self.path(svg, points, true, " fill=\"#000\""),
            Shape::Rectangle(extent) => writeln!(
                svg,
                "<rect x=\"{:.3}\" y=\"{:.3}\" width=\"{:.3}\" height=\"{:.3}\"/>",
                self.x(extent.low.x),
                self.y(extent.high.y),
                self.size(extent.width()),
                self.size(extent.height())
            ),
            Shape::Circle { center, radius } => self.circle(svg, *center, *radius, " fill=\"#fff\""),
            Shape::Disk { center, radius } => self.circle(svg, *center, *radius, " fill=\"#000\""),
            Shape::Text(text) => self.text(svg, text),
            // Taken apart before it is written.
            Shape::Hatch(_) | Shape::Dimension(_) | Shape::Symbol(_) => Ok(()),
        }
    }

    /// Colors at the back of what is hatched.
    fn tints(&self, svg: &mut String) -> std::fmt::Result {
        for item in &self.sheet.items {
            let Shape::Hatch(hatch) = &item.shape else {
                continue;
            };
            let Some(tint) = hatch.tint else { continue };
            let extent = hatch.within;
            writeln!(
                svg,
                "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"{}\" stroke=\"none\"/>",
                self.x(extent.low.x),
                self.y(extent.high.y),
                self.size(extent.width()),
                self.size(extent.height()),
                tint.color()
            )?;
        }
        Ok(())
    }

    fn path(&self, svg: &mut String, points: &[Point], is_closed: bool, fill: &str) -> std::fmt::Result {
        svg.push_str("<path d=\"");
        for (place, point) in points.iter().enumerate() {
            let command = if place == 0 { 'M' } else { 'L' };
            write!(svg, "{command}{:.3} {:.3}", self.x(point.x), self.y(point.y))?;
        }
        writeln!(svg, "{}\"{fill}/>", if is_closed { "Z" } else { "" })
    }

    fn circle(&self, svg: &mut String, center: Point, radius: Length, fill: &str) -> std::fmt::Result {
        writeln!(
            svg,
            "<circle cx=\"{:.3}\" cy=\"{:.3}\" r=\"{:.3}\"{fill}/>",
            self.x(center.x),
            self.y(center.y),
            self.size(radius)
        )
    }

    fn text(&self, svg: &mut String, text: &Text) -> std::fmt::Result {
        let (x, y) = (self.x(text.at.x), self.y(text.at.y));
        write!(
            svg,
            "<text x=\"{x:.3}\" y=\"{y:.3}\" font-size=\"{:.3}\"",
            self.size(lettering::size(text.height))
        )?;
        svg.push_str(match text.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        });
        if text.is_bold {
            svg.push_str(" font-weight=\"bold\"");
        }
        if text.is_upright {
            write!(svg, " transform=\"rotate(-90 {x:.3} {y:.3})\"")?;
        }
        writeln!(
            svg,
            " fill=\"#000\" stroke=\"none\" xml:space=\"preserve\">{}</text>",
            Escaped(&text.words)
        )
    }
}

/// Hundredths of a millimeter in millimeters.
fn hundredths(value: i16) -> String {
    format!("{:.2}", f64::from(value) / 100.0)
}

/// Text whose characters cannot be taken for markup.
struct Escaped<'a>(&'a str);

impl std::fmt::Display for Escaped<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for character in self.0.chars() {
            match character {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                '\'' => f.write_str("&#39;")?,
                other => f.write_char(other)?,
            }
        }
        Ok(())
    }
}
