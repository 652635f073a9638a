//! The frame around the views.

use super::state::State;
use super::widgets::button;
use super::{pressures, rig, words};
use leptos::ev;
use leptos::prelude::*;

/// A view, by its address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    Pressures,
    Rig,
}

impl Place {
    const ALL: [Self; 2] = [Self::Pressures, Self::Rig];

    fn hash(self) -> &'static str {
        match self {
            Self::Pressures => "#/pressures",
            Self::Rig => "#/rig",
        }
    }

    fn title(self) -> &'static str {
        match self {
            Self::Pressures => "Pressures",
            Self::Rig => "Rig",
        }
    }

    /// The view that the address names; home where it names none.
    fn of_address() -> Self {
        let hash = window().location().hash().unwrap_or_default();
        Self::ALL
            .into_iter()
            .find(|place| place.hash() == hash)
            .unwrap_or(Self::Pressures)
    }
}

/// Goes to a view by its address.
pub fn go_to(hash: &str) {
    // A hash can't be refused: it leaves no page.
    let _ = window().location().set_hash(hash);
}

/// The whole page over `state`.
pub fn page(state: State) -> impl IntoView {
    let place = RwSignal::new(Place::of_address());
    let main = NodeRef::<leptos::html::Main>::new();
    let listener = window_event_listener(ev::hashchange, move |_| {
        place.set(Place::of_address());
        window().scroll_to_with_x_and_y(0.0, 0.0);
        // A screen reader goes on reading at the new view.
        if let Some(main) = main.get_untracked() {
            let _ = main.focus();
        }
    });
    on_cleanup(move || listener.remove());
    Effect::new(move |_| {
        document().set_title(&format!("{} · Tyreside", place.get().title()));
    });
    view! {
        <header class="top">
            <h1>{move || {
                let name = state.rig(|rig| rig.name.clone());
                if name.trim().is_empty() { "Tyreside".to_owned() } else { name }
            }}</h1>
            {rig::unit_choice(state)}
        </header>
        <main node_ref=main tabindex="-1">
            {move || trouble(state)}
            {move || match place.get() {
                Place::Pressures => pressures::view(state),
                Place::Rig => rig::view(state),
            }}
        </main>
        <nav class="views" aria-label="Views">
            {Place::ALL
                .into_iter()
                .map(|to| view! {
                    <a
                        href=to.hash()
                        aria-current=move || (place.get() == to).then_some("page")
                    >
                        {to.title()}
                    </a>
                })
                .collect_view()}
        </nav>
    }
}

fn trouble(state: State) -> Option<AnyView> {
    let trouble = state.trouble.get()?;
    Some(
        view! {
            <aside class="notice" role="alert">
                <p>{words::trouble(trouble)}</p>
                {button("I understand", "", move || state.trouble.set(None))}
            </aside>
        }
        .into_any(),
    )
}
