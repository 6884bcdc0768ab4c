//! What the page tells the user, read out and shown.

use crate::live::{on, part};
use crate::state::{App, Message};
use leptos::prelude::*;
use std::time::Duration;

/// How long a message that needs no answer is shown; refusals stay until put away.
const SHOWN: Duration = Duration::from_secs(8);

/// Two live regions: one for what was done, one for what was refused.
#[component]
pub fn Messages() -> impl IntoView {
    let app = App::of_page();
    let told = StoredValue::new(0_u32);
    Effect::new(move |_| {
        let message = app.message.get();
        told.update_value(|count| *count += 1);
        let own = told.get_value();
        if !message.words.is_empty() && !message.refusal {
            set_timeout(
                move || {
                    if told.get_value() == own {
                        app.message.set(Message::default());
                    }
                },
                SHOWN,
            );
        }
    });
    let region = move |refusal: bool| {
        part(move || {
            let message = app.message.get();
            if message.refusal != refusal || message.words.is_empty() {
                return ().into_any();
            }
            let away = move |_| app.message.set(Message::default());
            view! {
                <p class="message">
                    <span>{message.words}</span>
                    <button type="button" aria-label="Put this message away" on:click=on(away)>"×"</button>
                </p>
            }
            .into_any()
        })
    };
    view! {
        <div class="messages">
            <div role="status">{region(false)}</div>
            <div role="alert">{region(true)}</div>
        </div>
    }
    .into_any()
}
