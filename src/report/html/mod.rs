//! Pages for browser and printer: one file, no script, nothing fetched. All text from outside is escaped by `maud`.

mod chart;
mod guide;
mod page;
mod plan;
mod round;
mod season;
mod table;

pub use chart::{Month, chart};
pub use guide::leaf_guide;
pub use maud::{Markup, html};
pub use page::page;
pub use plan::{Sheet, plan};
pub use round::round;
pub use season::season;
pub use table::{facts, table};

use crate::knowledge::{Knowledge, LeafPicture};
use crate::report::leaf::{svg, title};

/// A leaf picture with its caption; `id` must be unlike every other on the page.
#[must_use]
pub fn leaf_figure(knowledge: &Knowledge, picture: &LeafPicture, id: &str) -> Markup {
    let title = title(knowledge, picture);
    let says = format!("{id}-s");
    html! {
        figure.leaf-figure {
            (svg(picture, title, id, &says))
            figcaption {
                strong { (title) }
                " "
                span id=(says) { (picture.says) }
            }
        }
    }
}
