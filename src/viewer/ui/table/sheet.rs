//! A sheet of plywood on the table, whose parts are taken in the hand as in the strip.

use bevy_egui::egui::{Painter, Rect, Response, Shape, Ui};

use crate::drawing::Drawing;
use crate::model::stock::StockList;
use crate::viewer::paint2d::Placement;
use crate::viewer::state::Question;
use crate::viewer::state::table::Tool;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::sheet_hand::{self, Shown};

/// The sheet that lies on the table, to be moved about on.
pub struct OnTable<'a> {
    list: &'a StockList,
    kind: usize,
    sheet: usize,
    /// How many times smaller than life it is drawn.
    reduced: f64,
}

/// The sheet that the drawing in hand is of, while the pointer is for looking: pages are drawn
/// elsewhere, and what is measured stays where it is.
pub fn on_table<'a>(context: &Context<'a>, drawing: &Drawing) -> Option<OnTable<'a>> {
    if context.state.question != Question::Stock || context.state.table.tool != Tool::Look {
        return None;
    }
    let list = context.stock()?;
    let number = 1 + context.state.drawing(context.patterns.len());
    let sheets = |kind: usize| 0..list.sheets[kind].layout.sheets.len();
    let mut all = (0..list.sheets.len()).flat_map(|k| sheets(k).map(move |s| (k, s)));
    let (kind, sheet) = all.find(|(k, s)| list.sheet_number(*k, *s) == number)?;
    Some(OnTable { list, kind, sheet, reduced: drawing.reduced })
}

impl OnTable<'_> {
    /// Where its layout lies while the drawing lies `at`.
    fn shown(&self, at: Placement) -> Shown {
        let kind = &self.list.sheets[self.kind];
        let (low, size) = kind.problem.sheets[kind.layout.sheets[self.sheet].sheet].extent();
        let at = Placement { scale: at.scale / self.reduced as f32, ..at };
        let frame = Rect::from_two_pos(at.place(low), at.place(low + size));
        Shown { kind: self.kind, sheet: self.sheet, at, frame }
    }

    /// What pointer and keys do to its parts; whether they are taken up by one, so that the table
    /// stays where it is.
    pub fn act(&self, ui: &Ui, context: &mut Context, at: Placement, response: &Response) -> bool {
        let shown = [self.shown(at)];
        let held = context.state.stock.held.is_some();
        sheet_hand::act(ui, context, self.list, &shown, response);
        let keys = sheet_hand::moves_by_keys(context, &shown, response);
        held || context.state.stock.held.is_some() || keys
    }

    /// The part that keys move, to be painted with the lines of the drawing.
    pub fn chosen(&self, context: &Context, at: Placement) -> Option<Shape> {
        sheet_hand::chosen_ring(context, self.list, &self.shown(at))
    }

    /// The part in the hand, over the drawing.
    pub fn paint(&self, painter: &Painter, context: &Context, at: Placement) {
        let shown = self.shown(at);
        sheet_hand::hide_taken(painter, context, self.list, &shown);
        sheet_hand::held(painter, context, self.list, &[shown]);
    }

    /// What is told at the foot of the table: of the part in the hand, or what can be done. The
    /// longest words first.
    pub fn words(&self, context: &Context, small: bool) -> &'static [&'static str] {
        const ZOOM: [&str; 3] = [
            "drag a part to lay it elsewhere · zoom in to read all its words",
            "drag a part · zoom in to read",
            "zoom in to read",
        ];
        let look: &[&str] = if small { &ZOOM } else { &["drag a part to lay it elsewhere"] };
        sheet_hand::words(context).unwrap_or(look)
    }
}
