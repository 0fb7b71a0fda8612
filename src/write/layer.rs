//! What the layers of a drawing are called in other programs.

use crate::sheet::Layer;

/// What a layer holds, in plain words.
pub const fn words(layer: Layer) -> &'static str {
    match layer {
        Layer::Cut => "cut line",
        Layer::Trim => "trim line",
        Layer::PreCut => "straight pre-cut",
        Layer::Landing => "landing line",
        Layer::Hole => "hole line",
        Layer::Mark => "mark line",
        Layer::Zero => "zero line",
        Layer::Quarter => "quarter lines",
        Layer::Tab => "overlap tab",
        Layer::Edge => "edge",
        Layer::Ruler => "rulers",
        Layer::Check => "checks",
        Layer::Tube => "tubes",
        Layer::Hidden => "hidden lines",
        Layer::Axis => "axes",
        Layer::Dimension => "dimensions",
        Layer::Frame => "frames",
        Layer::Note => "text",
    }
}

/// Whether a blade or a torch follows the layer's lines.
pub const fn is_cut(layer: Layer) -> bool {
    matches!(
        layer,
        Layer::Cut | Layer::Trim | Layer::Landing | Layer::Hole | Layer::Edge
    )
}
