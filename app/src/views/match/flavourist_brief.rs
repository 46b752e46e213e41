//! The brief for the flavourist on the candidate that is looked at, to copy.

use crate::browser::{clipboard, download};
use crate::parts::disclosure::HelpOn;
use crate::parts::numerals::readable;
use crate::state::AppContext;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::write::brief::{FlavouristBrief, flavourist_brief};

#[component]
pub fn Brief() -> impl IntoView {
    let context: AppContext = expect_context();
    let brief = Memo::new(move |_| {
        let wanted = context.derived.candidate.get()?;
        context.derived.analysis.with(|analysis| {
            let analysis = analysis.as_ref()?;
            let candidate = analysis.candidates.iter().find(|candidate| candidate.sample == wanted)?;
            Some(flavourist_brief(analysis, candidate))
        })
    });
    view! {
        <section class="brief" data-test="brief">
            {move || brief.get().map(|brief| view! { <BriefText brief/> })}
            <HelpOn help=&words::help::BRIEF/>
        </section>
    }
}

#[component]
fn BriefText(brief: FlavouristBrief) -> impl IntoView {
    let (said, set_said) = signal("");
    let text = readable(brief.text());
    let copy = move |_| {
        let text = untrack(&text);
        clipboard::copy(text.clone(), move |copied| {
            if !copied {
                download::save_text(say::BRIEF_FILE, "text/plain", &text);
            }
            set_said.set(if copied { words::COPIED } else { say::BRIEF_COPY_REFUSED });
        });
    };
    view! {
        <div class="part-head">
            <h2>{say::brief_heading(&brief.sample)}</h2>
            <div class="tools">
                <span class="said" role="status" data-test="brief-said">{said}</span>
                <button type="button" class="small" data-test="copy-brief" on:click=copy>{words::COPY_TABLE}</button>
            </div>
        </div>
        <ol class="brief-sentences">
            {brief.sentences.into_iter().map(|sentence| view! { <li data-test="brief-sentence">{readable(sentence)}</li> }).collect_view()}
        </ol>
    }
}
