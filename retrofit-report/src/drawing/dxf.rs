//! A sheet as a DXF file for CAD: model space, inches, real size, one layer for each kind of thing.

use ::dxf::entities::{Circle, Entity, EntityType, Line, LwPolyline, Solid, Text as DxfText};
use ::dxf::enums::HorizontalTextJustification;
use ::dxf::tables::{Layer as DxfLayer, LineType};
use ::dxf::{Drawing, LwPolylineVertex, Point as DxfPoint};
use retrofit_core::measure::Length;
use thiserror::Error;

use super::sheet::{Anchor, Item, Layer, Point, Shape, Sheet, Text};

/// What a new file is begun with. The crate would put the time of day and a random number into it; the same
/// drawing shall be the same bytes.
const BEGINNING: &str = "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n1\n\
    9\n$TDCREATE\n40\n2451545.0\n9\n$TDUCREATE\n40\n2451545.0\n9\n$TDUPDATE\n40\n2451545.0\n\
    9\n$TDUUPDATE\n40\n2451545.0\n9\n$FINGERPRINTGUID\n2\n{00000000-0000-0000-0000-000000000000}\n\
    9\n$VERSIONGUID\n2\n{00000000-0000-0000-0000-000000000000}\n0\nENDSEC\n0\nEOF\n";

/// A drawing could not be written as DXF.
#[derive(Debug, Error)]
#[error("the drawing could not be written as DXF: {0}")]
pub struct DxfError(#[from] ::dxf::DxfError);

impl Sheet {
    /// The sheet as a DXF file (release 2000), in inches at real size; words are as high as the scale makes
    /// them.
    ///
    /// ```
    /// # use retrofit_core::house::{AsBuilt, House};
    /// # use retrofit_core::prices::UnitPrices;
    /// # use retrofit_core::provisions::Library;
    /// # use retrofit_core::remedy::design;
    /// use retrofit_report::drawing;
    ///
    /// # let house: House = serde_json::from_str(r#"{
    /// #     "format": "house-1", "name": "Quince Lantern Way", "building": {"stories": 1},
    /// #     "wall_lines": [{"name": "north", "length": {"measured": "24'-0\""}}]
    /// # }"#)?;
    /// # let house = AsBuilt::new(house).expect("the record makes sense");
    /// # let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the tables are in order");
    /// # let remedy = design(&house, &provisions, UnitPrices::placeholder());
    /// let file = drawing::plan(&remedy, &provisions).to_dxf()?;
    /// let read_back = dxf::Drawing::load(&mut file.as_slice())?;
    /// assert!(read_back.layers().any(|layer| layer.name == "EXISTING"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn to_dxf(&self) -> Result<Vec<u8>, DxfError> {
        let mut drawing = Drawing::load(&mut BEGINNING.as_bytes())?;
        drawing.normalize();
        for style in drawing.styles_mut() {
            // The plain stroke font of old is wider than the room that words are given.
            "arial.ttf".clone_into(&mut style.primary_font_file_name);
        }
        for layer in Layer::ALL {
            let mut line_type_name = "CONTINUOUS".to_owned();
            if let Some(dash) = layer.dash() {
                layer.name().clone_into(&mut line_type_name);
                drawing.add_line_type(self.line_type(layer, dash));
            }
            drawing.add_layer(DxfLayer {
                name: layer.name().to_owned(),
                line_type_name,
                ..DxfLayer::default()
            });
        }
        for Item { layer, shape } in self.strokes() {
            if let Some(specific) = entity(&shape) {
                let mut entity = Entity::new(specific);
                layer.name().clone_into(&mut entity.common.layer);
                entity.common.lineweight_enum_value = layer.weight();
                drawing.add_entity(entity);
            }
        }
        let mut bytes = Vec::new();
        drawing.save(&mut bytes)?;
        Ok(bytes)
    }

    fn line_type(&self, layer: Layer, dash: [i16; 2]) -> LineType {
        let [dash, gap] = dash.map(|hundredths| {
            let on_paper = Length::from_nanometers(i64::from(hundredths) * 10_000);
            self.scale.real(on_paper).as_inches_f64()
        });
        LineType {
            name: layer.name().to_owned(),
            description: "dashed".to_owned(),
            alignment_code: i32::from(b'A'),
            element_count: 2,
            total_pattern_length: dash + gap,
            dash_dot_space_lengths: vec![dash, -gap],
            ..LineType::default()
        }
    }
}

fn entity(shape: &Shape) -> Option<EntityType> {
    Some(match shape {
        Shape::Line(from, to) => EntityType::Line(Line {
            p1: place(*from),
            p2: place(*to),
            ..Line::default()
        }),
        Shape::Polyline { points, is_closed } => EntityType::LwPolyline(polyline(points, *is_closed)),
        Shape::Rectangle(extent) => EntityType::LwPolyline(polyline(&extent.corners(), true)),
        Shape::Circle { center, radius } => EntityType::Circle(Circle {
            center: place(*center),
            radius: radius.as_inches_f64(),
            ..Circle::default()
        }),
        Shape::Disk { center, radius } => EntityType::LwPolyline(disk(*center, *radius)),
        Shape::Solid(corners) => EntityType::Solid(solid(corners)?),
        Shape::Text(text) => EntityType::Text(words(text)),
        // Taken apart before it is written.
        Shape::Hatch(_) | Shape::Dimension(_) | Shape::Symbol(_) => return None,
    })
}

fn place(point: Point) -> DxfPoint {
    DxfPoint::new(point.x.as_inches_f64(), point.y.as_inches_f64(), 0.0)
}

fn polyline(points: &[Point], is_closed: bool) -> LwPolyline {
    let mut polyline = LwPolyline {
        vertices: points
            .iter()
            .map(|point| LwPolylineVertex {
                x: point.x.as_inches_f64(),
                y: point.y.as_inches_f64(),
                ..LwPolylineVertex::default()
            })
            .collect(),
        ..LwPolyline::default()
    };
    polyline.set_is_closed(is_closed);
    polyline
}

/// Two half circles of half the radius, drawn as wide as the radius, fill a disk.
fn disk(center: Point, radius: Length) -> LwPolyline {
    let half = Length::from_nanometers(radius.nanometers() / 2);
    let back = Length::ZERO.saturating_sub(half);
    let mut ring = polyline(
        &[center.moved(back, Length::ZERO), center.moved(half, Length::ZERO)],
        true,
    );
    ring.constant_width = radius.as_inches_f64();
    for vertex in &mut ring.vertices {
        vertex.bulge = 1.0;
    }
    ring
}

/// The corners of a solid are written crosswise.
fn solid(corners: &[Point]) -> Option<Solid> {
    let (first, second, third) = (corners.first()?, corners.get(1)?, corners.get(2)?);
    let fourth = corners.get(3).unwrap_or(third);
    Some(Solid {
        first_corner: place(*first),
        second_corner: place(*second),
        third_corner: place(*fourth),
        fourth_corner: place(*third),
        ..Solid::default()
    })
}

fn words(text: &Text) -> DxfText {
    let location = place(text.at);
    let (justification, second) = match text.anchor {
        Anchor::Start => (HorizontalTextJustification::Left, DxfPoint::origin()),
        Anchor::Middle => (HorizontalTextJustification::Center, location.clone()),
        Anchor::End => (HorizontalTextJustification::Right, location.clone()),
    };
    DxfText {
        location,
        text_height: text.height.as_inches_f64(),
        // Two percent signs begin a code in CAD text.
        value: text.words.replace("%%", "% %"),
        rotation: if text.is_upright { 90.0 } else { 0.0 },
        horizontal_text_justification: justification,
        second_alignment_point: second,
        ..DxfText::default()
    }
}
