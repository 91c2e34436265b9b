//! What is aboard and how she is to float, as the document has it, to be changed.

use crate::hull::AfloatPlan;
use crate::hull::edit::Edit;
use crate::model::Model;
use crate::model::afloat::loads_of;
use crate::viewer::session::Command;
use crate::viewer::ui::context::Context;

/// The plan with the loads as they are aboard, whether the document names them or not.
pub fn plan_with_loads(context: &Context, model: &Model) -> AfloatPlan {
    let mut plan = context.session.hull().afloat.clone();
    if plan.loads.is_empty() {
        plan.loads = loads_of(model);
    }
    plan
}

/// Asks for a changed plan.
pub fn set(context: &mut Context, next: AfloatPlan, what: &'static str) {
    context.ask(Command::Edit(Edit::SetAfloat(Box::new(next), what)));
}
