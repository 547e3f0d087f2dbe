//! stub
#![allow(missing_docs, clippy::all, clippy::pedantic)]
use crate::house::*; use crate::measure::Length; use super::loads::*; use super::work_takeoff::SectionSize; use super::earthwork::OldMaterial;
use crate::provisions::{Provisions,TableError}; use crate::screen::Standards;
#[derive(Debug,Clone)] pub struct FootingTable; impl FootingTable { pub fn shipped() -> Result<&'static Self,&'static [TableError]> { Ok(&FootingTable) } }
#[derive(Debug,Clone)] pub struct CrossSection; impl CrossSection { pub fn quantities(&self, _s: Option<&FoundationStretch>, m: OldMaterial) -> SectionSize { SectionSize{footing_width:Length::inches(15),footing_thickness:Length::inches(7),stem_thickness:Length::inches(8),stem_height:Length::inches(24),depth_below_grade:Length::inches(18),old_width:Length::inches(8),old_height:Length::inches(24),old_material:m,bars:vec![],verticals:None,sill_width:Length::inches(6),sill_thickness:Length::inches(2)} } }
#[derive(Debug,Clone)] pub struct NewFoundation { pub section: CrossSection }
#[derive(Debug,Clone,thiserror::Error)] pub enum SizingError { #[error("x")] X }
pub struct SizingInput; impl SizingInput { pub fn of(_h:&House,_w:usize,_s:Option<&FoundationStretch>,_o:FoundationOption,_l:Option<&LineLoads>) -> Self { Self } }
impl NewFoundation { pub fn size(_:&SizingInput,_:&FootingTable,_:&Standards,_:&Provisions) -> Result<Self,SizingError> { Ok(Self{section:CrossSection}) } pub fn anchors_in(&self,_:Length)->u16 {2} }
