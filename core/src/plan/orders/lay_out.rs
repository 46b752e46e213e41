//! Orders for open slots beside rows that stand: rows of a Williams design, or incomplete blocks put in order. It knows
//! nothing of codes.

use super::block_orders::order_blocks;
use super::blocks::{BlockBalance, Blocks, all_samples_over_sessions, one_block_each};
use super::order_plan::{Coverage, OrderRequest, OrderRow, Slot};
use super::row_choice::{Tally, assign_rows, choose_rows};
use super::williams::{relabelled, williams_rows};
use crate::numeric::random::Random;

/// Orders for open slots beside rows that stand. Slots of one assessor and replicate follow each other. Codes are left
/// empty.
pub(in crate::plan) fn lay_out(
    request: &OrderRequest,
    slots: &[Slot],
    standing: &[OrderRow],
    random: &mut Random,
) -> Vec<OrderRow> {
    let orders = if request.is_complete() {
        complete_orders(request, slots, standing, random)
    } else {
        incomplete_orders(request, slots, standing, random)
    };
    let row = |(slot, order): (&Slot, Vec<usize>)| OrderRow {
        assessor: slot.assessor,
        replicate: slot.replicate,
        session: slot.session,
        order,
        codes: Vec::new(),
        served: 0,
    };
    slots.iter().zip(orders).map(row).collect()
}

fn complete_orders(
    request: &OrderRequest,
    slots: &[Slot],
    standing: &[OrderRow],
    random: &mut Random,
) -> Vec<Vec<usize>> {
    let pool = labelled_design(request);
    let mut overall = Tally::new(request.samples);
    standing.iter().for_each(|row| overall.change(&row.order, 1));
    let mut orders: Vec<Vec<usize>> = vec![Vec::new(); slots.len()];
    for replicate in 1..=request.replicates as u32 {
        let open: Vec<usize> = (0..slots.len()).filter(|index| slots[*index].replicate == replicate).collect();
        let mut own = Tally::new(request.samples);
        standing.iter().filter(|row| row.replicate == replicate).for_each(|row| own.change(&row.order, 1));
        let chosen = choose_rows(&pool, open.len(), &own, &overall, random);
        let rows: Vec<Vec<usize>> = chosen.into_iter().map(|index| pool[index].clone()).collect();
        rows.iter().for_each(|row| overall.change(row, 1));
        let earlier = |index: &usize| orders_of(slots[*index].assessor, slots, &orders, standing);
        let earlier: Vec<Vec<&[usize]>> = open.iter().map(earlier).collect();
        let assigned = assign_rows(rows, &earlier, random);
        open.into_iter().zip(assigned).for_each(|(index, order)| orders[index] = order);
    }
    orders
}

/// The rows of the Williams design. Labels come from the seed alone, so that rows laid out later belong to the same
/// design.
fn labelled_design(request: &OrderRequest) -> Vec<Vec<usize>> {
    let mut labels: Vec<usize> = (0..request.samples).collect();
    Random::seeded_for(request.seed, "labels of the Williams design").shuffle(&mut labels);
    relabelled(&williams_rows(request.samples), &labels)
}

/// Orders that an assessor has elsewhere.
fn orders_of<'a>(
    assessor: usize,
    slots: &[Slot],
    orders: &'a [Vec<usize>],
    standing: &'a [OrderRow],
) -> Vec<&'a [usize]> {
    let laid_out = slots.iter().zip(orders).filter(|(slot, order)| slot.assessor == assessor && !order.is_empty());
    let stood = standing.iter().filter(|row| row.assessor == assessor);
    stood.map(|row| row.order.as_slice()).chain(laid_out.map(|(_, order)| order.as_slice())).collect()
}

fn incomplete_orders(
    request: &OrderRequest,
    slots: &[Slot],
    standing: &[OrderRow],
    random: &mut Random,
) -> Vec<Vec<usize>> {
    let spread = request.spread_samples();
    let full = open_blocks(request, slots.len(), &spread_blocks(request, standing), random).into_iter().map(|block| {
        let mut samples: Vec<usize> = block.into_iter().map(|index| spread[index]).collect();
        samples.extend(request.target_in_each_session);
        samples
    });
    let mut blocks: Vec<Vec<usize>> = full.collect();
    if request.coverage == Coverage::OneSession {
        blocks = meet_new_samples(blocks, slots, standing);
    }
    let stood: Vec<Vec<usize>> = standing.iter().map(|row| row.order.clone()).collect();
    order_blocks(blocks, request.samples, &stood, random)
}

/// Blocks for so many open slots beside `fixed` ones, as indices into the samples that are spread.
fn open_blocks(request: &OrderRequest, slots: usize, fixed: &[Vec<usize>], random: &mut Random) -> Vec<Vec<usize>> {
    let samples = request.spread_samples().len();
    let sessions = request.sessions_per_replicate();
    let blocks = match request.coverage {
        Coverage::AllSamples => all_samples_over_sessions(samples, sessions, slots / sessions.max(1), fixed, random),
        Coverage::OneSession => one_block_each(samples, request.spread_per_session(), slots, fixed, random),
    };
    blocks.blocks
}

/// Exchanges whole blocks between assessors so that nobody gets in one replicate what they had in another.
fn meet_new_samples(mut blocks: Vec<Vec<usize>>, slots: &[Slot], standing: &[OrderRow]) -> Vec<Vec<usize>> {
    let shared = |blocks: &[Vec<usize>], index: usize, block: &[usize]| -> usize {
        let mine = |other: &usize| *other != index && slots[*other].assessor == slots[index].assessor;
        let open = (0..slots.len()).filter(mine).map(|other| blocks[other].as_slice());
        let stood = standing.iter().filter(|row| row.assessor == slots[index].assessor).map(|row| row.order.as_slice());
        open.chain(stood).map(|other| other.iter().filter(|sample| block.contains(sample)).count().pow(2)).sum()
    };
    while swap_once_over(&mut blocks, slots, &shared) {}
    blocks
}

/// What a block has in common with the other blocks of the assessor at a place.
type SharedWith<'s> = dyn Fn(&[Vec<usize>], usize, &[usize]) -> usize + 's;

/// Swaps each pair of blocks of two assessors that have less in common with the rest after it; false where none had.
fn swap_once_over(blocks: &mut [Vec<usize>], slots: &[Slot], shared: &SharedWith<'_>) -> bool {
    let mut improved = false;
    for left in 0..blocks.len() {
        for right in (left + 1..blocks.len()).filter(|right| slots[left].assessor != slots[*right].assessor) {
            let now = shared(blocks, left, &blocks[left]) + shared(blocks, right, &blocks[right]);
            if shared(blocks, left, &blocks[right]) + shared(blocks, right, &blocks[left]) < now {
                blocks.swap(left, right);
                improved = true;
            }
        }
    }
    improved
}

/// The blocks of some rows with a target that is in each left out, as indices into the samples that are spread.
fn spread_blocks(request: &OrderRequest, rows: &[OrderRow]) -> Vec<Vec<usize>> {
    let spread = request.spread_samples();
    let index_of = |sample: &usize| spread.iter().position(|candidate| candidate == sample);
    rows.iter().map(|row| row.order.iter().filter_map(index_of).collect()).collect()
}

/// How even the blocks of these rows are.
pub(in crate::plan) fn block_balance(request: &OrderRequest, rows: &[OrderRow]) -> BlockBalance {
    let blocks = spread_blocks(request, rows);
    Blocks { blocks }.balance(request.spread_samples().len(), &[])
}
