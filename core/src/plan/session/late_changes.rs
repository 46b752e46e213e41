//! Late changes: somebody is absent or joins after serving has begun. What was served stays, the rest is laid out anew
//! around it. It knows nothing of names.

pub use crate::plan::orders::order_plan::LateChange;

use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::orders::lay_out::lay_out;
use crate::plan::orders::order_plan::{OrderPlan, OrderRow, Slot};
use std::collections::BTreeSet;

impl OrderPlan {
    /// Notes how many cups of a row were served; a row with one or more can't change any more.
    ///
    /// # Errors
    /// `Incomplete` where there is no such row or it has fewer cups.
    pub fn mark_served(&mut self, assessor: usize, session: u32, cups: usize) -> Result<(), PlanError> {
        let row = self.rows.iter_mut().find(|row| row.assessor == assessor && row.session == session);
        match row {
            Some(row) if cups <= row.order.len() => {
                row.served = cups;
                Ok(())
            }
            _ => Err(PlanError::Incomplete {
                what: format!("Assessor {} has no {cups} cups in session {session}.", assessor + 1),
                hint: "Check the session and the number of cups.".to_owned(),
            }),
        }
    }

    /// The plan after a change. Rows with served cups stay as they are; all others are laid out anew so that the whole
    /// is as even as it can be. Codes stay: cups may be labelled already.
    ///
    /// # Errors
    /// An assessor or session that is not in the plan, or somebody added who takes part already.
    pub fn with_late_change(&self, change: &LateChange, seed: u64) -> Result<OrderPlan, PlanError> {
        self.check_change(change)?;
        let mut plan = self.clone();
        match *change {
            LateChange::Absent { assessor, from_session } => plan.take_out(assessor, from_session),
            LateChange::Added { assessor, from_session } => plan.put_in(assessor, from_session),
        }
        let (standing, mut open) = apart(plan.rows, plan.request.sessions_per_replicate() as u32);
        open.sort_by_key(|slot| (slot.replicate, slot.assessor, slot.session));
        let mut random = Random::seeded_for(seed, "late change");
        let laid_out = lay_out(&plan.request, &open, &standing, &mut random);
        plan.rows = standing.into_iter().chain(laid_out).collect();
        plan.late_changes.push(change.clone());
        Ok(plan.with_counts())
    }

    /// Cups that were served stay.
    fn take_out(&mut self, assessor: usize, from_session: u32) {
        let gone = |row: &OrderRow| row.assessor == assessor && row.session >= from_session;
        self.rows.iter_mut().filter(|row| gone(row)).for_each(|row| row.order.truncate(row.served));
        self.rows.retain(|row| !gone(row) || row.served > 0);
    }

    fn put_in(&mut self, assessor: usize, from_session: u32) {
        self.request.assessors = self.request.assessors.max(assessor + 1);
        let taken: BTreeSet<u32> =
            self.rows.iter().filter(|row| row.assessor == assessor).map(|row| row.session).collect();
        let open = self.keys.iter().filter(|key| key.session >= from_session && !taken.contains(&key.session));
        let rows: Vec<OrderRow> = open.map(|key| open_row(assessor, key.replicate, key.session)).collect();
        self.rows.extend(rows);
    }

    fn check_change(&self, change: &LateChange) -> Result<(), PlanError> {
        let (LateChange::Absent { assessor, from_session } | LateChange::Added { assessor, from_session }) = *change;
        let takes_part = self.rows.iter().any(|row| row.assessor == assessor && row.session >= from_session);
        let sessions = self.request.sessions_per_replicate() as u32;
        let fault = match change {
            _ if self.key(from_session).is_none() => format!("There is no session {from_session} in this plan."),
            LateChange::Absent { .. } if !takes_part => {
                format!("Assessor {} has no cups from session {from_session} on.", assessor + 1)
            }
            LateChange::Added { .. } if takes_part => {
                format!("Assessor {} takes part from session {from_session} on already.", assessor + 1)
            }
            LateChange::Added { .. } if assessor > self.request.assessors => {
                format!("The next new assessor has number {}.", self.request.assessors + 1)
            }
            LateChange::Added { .. } if (from_session - 1) % sessions != 0 => {
                format!("Session {from_session} is in the middle of a replicate.")
            }
            _ => return Ok(()),
        };
        let hint = "Check the assessor and the session against the plan.".to_owned();
        Err(PlanError::Incomplete { what: fault, hint })
    }
}

fn open_row(assessor: usize, replicate: u32, session: u32) -> OrderRow {
    OrderRow { assessor, replicate, session, order: Vec::new(), codes: Vec::new(), served: 0 }
}

/// Rows that stand, and slots that are open. Where a replicate takes several sessions it is open only as a whole, or
/// an assessor would meet a sample twice and another never.
fn apart(rows: Vec<OrderRow>, sessions: u32) -> (Vec<OrderRow>, Vec<Slot>) {
    let mut begun: BTreeSet<(usize, u32)> = BTreeSet::new();
    let mut held: std::collections::BTreeMap<(usize, u32), u32> = std::collections::BTreeMap::new();
    for row in &rows {
        *held.entry((row.assessor, row.replicate)).or_default() += 1;
        if row.served > 0 {
            begun.insert((row.assessor, row.replicate));
        }
    }
    let stands = |row: &OrderRow| {
        let unit = (row.assessor, row.replicate);
        begun.contains(&unit) || (!row.order.is_empty() && held.get(&unit) != Some(&sessions))
    };
    let (standing, open): (Vec<OrderRow>, Vec<OrderRow>) = rows.into_iter().partition(stands);
    let slot = |row: OrderRow| Slot { assessor: row.assessor, replicate: row.replicate, session: row.session };
    (standing, open.into_iter().map(slot).collect())
}
