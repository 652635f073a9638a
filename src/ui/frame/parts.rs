//! Views that a first visit does without.
//!
//! In a build with the feature `split`, what `part!` names is taken out of
//! the page's wasm after linking (`site.mjs`) and fetched when it is first
//! shown. In any other build it is there from the start, so that a development
//! build and the browser tests need no further step.

use crate::ui::frame::state::State;
use crate::ui::kit::element::Content;

/// The id of the place in which views are shown.
pub const MAIN: &str = "views";

/// A view: what it is shown by.
pub type View = fn(State) -> Content;

/// Where a view's code is.
#[derive(Clone, Copy)]
pub enum Part {
    /// In the wasm that every visit loads.
    Here(View),
    /// In a file of its own.
    #[cfg(feature = "split")]
    Apart(&'static apart::Apart),
}

/// A view in a part: `part!(NAME: VIEW)`. Views of one name come together.
#[cfg(feature = "split")]
macro_rules! part {
    ($name:ident: $view:path) => {{
        use $crate::ui::frame::parts::apart::{Apart, NotLoaded};
        // What only this function reaches is what the part holds.
        #[wasm_split_helpers::wasm_split($name, fallible)]
        fn reached() -> Result<$crate::ui::frame::parts::View, NotLoaded> {
            Ok($view)
        }
        static APART: Apart = Apart::new(|| Box::pin(reached()));
        $crate::ui::frame::parts::Part::Apart(&APART)
    }};
}
#[cfg(not(feature = "split"))]
macro_rules! part {
    ($name:ident: $view:path) => {
        $crate::ui::frame::parts::Part::Here($view)
    };
}
pub(crate) use part;

/// Views of one part, each as a [`Part`] of its own name: `parts!(rest {
/// NUTS: nuts::view, … })`. One function fetches for all of them: one for each
/// would be bytes that every visit waits for.
#[cfg(feature = "split")]
macro_rules! parts {
    ($name:ident { $($part:ident: $view:path,)+ }) => {
        #[wasm_split_helpers::wasm_split($name, fallible)]
        fn reached(
            which: usize,
        ) -> Result<$crate::ui::frame::parts::View, $crate::ui::frame::parts::apart::NotLoaded> {
            const VIEWS: &[$crate::ui::frame::parts::View] = &[$($view),+];
            Ok(VIEWS[which])
        }
        #[allow(
            non_camel_case_types,
            clippy::upper_case_acronyms,
            reason = "their places in that list"
        )]
        #[derive(Clone, Copy)]
        enum Which { $($part,)+ }
        fn coming(which: Which) -> $crate::ui::frame::parts::apart::Coming {
            Box::pin(reached(which as usize))
        }
        $(static $part: Part = {
            static APART: $crate::ui::frame::parts::apart::Apart =
                $crate::ui::frame::parts::apart::Apart::new(|| coming(Which::$part));
            Part::Apart(&APART)
        };)+
    };
}
#[cfg(not(feature = "split"))]
macro_rules! parts {
    ($name:ident { $($part:ident: $view:path,)+ }) => {
        $(static $part: Part = Part::Here($view);)+
    };
}
pub(crate) use parts;

impl Part {
    /// Whether it can be shown at once.
    pub fn is_here(self) -> bool {
        match self {
            Self::Here(_) => true,
            #[cfg(feature = "split")]
            Self::Apart(apart) => apart.view().is_some(),
        }
    }

    /// The view once it is there, and nothing until then or where it can't be
    /// fetched: for what the page does without.
    pub fn show_quietly(self, state: State) -> Content {
        match self {
            Self::Here(view) => view(state),
            #[cfg(feature = "split")]
            Self::Apart(apart) => apart.show_quietly(state),
        }
    }

    /// The view, or word of its coming.
    pub fn show(self, state: State) -> Content {
        match self {
            Self::Here(view) => view(state),
            #[cfg(feature = "split")]
            Self::Apart(apart) => apart.show(state),
        }
    }
}

#[cfg(feature = "split")]
pub mod apart {
    //! Fetching a part.

    use super::{MAIN, View};
    use crate::ui::frame::state::State;
    use crate::ui::frame::words;
    use crate::ui::kit::element::{Content, Element, Node, element, live};
    use crate::ui::kit::fields::{button, buttons, focus_soon, paragraph};
    use leptos::prelude::*;
    use leptos::task::spawn_local;
    use std::future::Future;
    use std::pin::Pin;
    use std::sync::OnceLock;
    use wasm_split_helpers::SplitLoaderError;

    /// A part that could not be fetched.
    pub struct NotLoaded;

    impl From<SplitLoaderError> for NotLoaded {
        fn from(_: SplitLoaderError) -> Self {
            Self
        }
    }

    /// A part on its way.
    pub type Coming = Pin<Box<dyn Future<Output = Result<View, NotLoaded>>>>;

    /// A view in a file of its own.
    pub struct Apart {
        view: OnceLock<View>,
        fetch: fn() -> Coming,
    }

    #[derive(Clone, Copy)]
    enum Stage {
        Coming,
        Shown(View),
        Failed,
    }

    impl Apart {
        /// Not yet fetched.
        pub const fn new(fetch: fn() -> Coming) -> Self {
            Self {
                view: OnceLock::new(),
                fetch,
            }
        }

        /// The view, once it was fetched.
        pub fn view(&self) -> Option<View> {
            self.view.get().copied()
        }

        /// The view once it is there, and nothing until then.
        pub fn show_quietly(&'static self, state: State) -> Content {
            if let Some(view) = self.view() {
                return view(state);
            }
            let shown = RwSignal::new(None::<View>);
            // After the figures are drawn, and what draws them is fetched.
            request_animation_frame(move || {
                spawn_local(async move {
                    if let Ok(view) = (self.fetch)().await {
                        let _ = self.view.set(view);
                        // Nobody may be waiting any more.
                        let _ = shown.try_set(Some(view));
                    }
                });
            });
            live(move || shown.get().map(|view| view(state)))
        }

        /// The view, or word of its coming.
        pub fn show(&'static self, state: State) -> Content {
            if let Some(view) = self.view() {
                return view(state);
            }
            let stage = RwSignal::new(Stage::Coming);
            let fetch = move || {
                stage.set(Stage::Coming);
                spawn_local(async move {
                    let next = match (self.fetch)().await {
                        Ok(view) => {
                            let _ = self.view.set(view);
                            Stage::Shown(view)
                        }
                        Err(NotLoaded) => Stage::Failed,
                    };
                    // Nobody may be waiting any more.
                    if stage.try_set(next).is_none()
                        && matches!(next, Stage::Shown(_))
                        && let Some(target) = state.take_target()
                    {
                        focus_soon(target);
                    }
                });
            };
            fetch();
            live(move || match stage.get() {
                Stage::Coming => paragraph("said", words::COMING)
                    .attr("role", "status")
                    .node(),
                Stage::Shown(view) => view(state),
                Stage::Failed => failed(fetch).node(),
            })
        }
    }

    fn failed(again: impl Fn() + 'static) -> Element {
        let keys = buttons()
            .child(
                button(words::TRY_AGAIN, move || {
                    again();
                    // The key goes.
                    focus_soon(MAIN.to_owned());
                })
                .class("primary"),
            )
            .child(button(words::LOAD_AGAIN, || {
                // A page that may not load again has nothing else to offer.
                let _ = window().location().reload();
            }));
        element("div")
            .class("notice")
            .attr("role", "alert")
            .child(paragraph("", words::NOT_FETCHED))
            .child(keys)
    }
}
