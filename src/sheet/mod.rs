//! The press sheet: how many cards lie on it, where each lies, what lies behind it, and every mark. Geometry only, in exact
//! lengths; the press file is drawn from it and later compared with it.
//!
//! Coordinates of a form: origin at its lower left, y up, as that side of the sheet is looked at, its lower edge in the
//! grippers. Guillotines, presses and folders hurt people: whoever runs them follows the maker's instructions and the local
//! safety rules.

mod cut;
mod fit;
mod fold;
mod gang;
mod grid;
mod layout;
mod marks;
mod most_up;
mod press;
mod remark;
mod size;
mod station;
mod stock;
mod style;
mod weight;

pub use cut::{
    CAUTION, Cut, CutLine, CutPlan, CutRequest, LEAST_GAUGE, LIFT_HEIGHT, Lifts, Parting, Pile, PileFor, cut_plan,
    lifts,
};
pub use fit::{Gutters, number_up};
pub use fold::{FoldLine, FoldList, FoldWay, Score, ScoreWhy, Unsure, fold_list};
pub use gang::{FormPattern, GANG_EFFORT, GangForm, GangPlan, GangRequest, Lot, LotTally, MOST_FORMS, gang};
pub use layout::{Form, FormSide, LayoutRequest, Sheet, lay_out, one_up};
pub use marks::{Dash, Edge, FOLD_DASH, LINE_WEIGHT, Line, Mark, MarkKind, MarkSet};
pub use most_up::{
    Block, CutDown, EFFORT, Lie, MostUp, SheetRange, Spacing, UpRequest, equal_parts, most_up, sheets_out_of,
};
pub use press::Press;
pub use remark::Remark;
pub use size::{GripperEdge, SheetSize};
pub use station::Station;
pub use stock::{Grain, SCORE_ABOVE_CALIPER, SCORE_ABOVE_GSM, Stock};
pub use style::{Rows, WorkStyle};
pub use weight::{BOOK_BASIC, COVER_BASIC, Weight, gsm_from_pounds, m_weight, pounds_from_gsm};
