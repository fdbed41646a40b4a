//! Writes a sample sheet as PDF and SVG, to look at: `cargo run -p casewright-drawing --example sheet_sample [DIR]`.

use casewright_core::Length;
use casewright_drawing::kurbo::Rect;
use casewright_drawing::label::Label;
use casewright_drawing::place::collisions;
use casewright_drawing::{
    Axes, Chain, Column, DimensionStyle, Format, Layer, LineClass, Place, Row, Scale, Sheet, Side, Table, Tag,
    TitleBlock, View, compose, number_sheets, pdf_pack, svg_sheet,
};

fn format(length: Length) -> String {
    format!("{}", length.mm()).replace('.', ",")
}

fn at(values: &[f64]) -> Vec<Length> {
    values.iter().map(|mm| Length::from_mm_f64(*mm)).collect()
}

fn front() -> View {
    let mut view = View::new("front", "Front elevation", Axes::FRONT);
    let across = [0.0, 18.0, 418.0, 436.0, 836.0, 854.0, 1182.0, 1200.0];
    let up = [0.0, 80.0, 98.0, 462.5, 480.5, 862.0, 880.0];
    for pair in across.chunks(2) {
        let rect = Rect::new(pair[0], up[1], pair[1], up[6]);
        view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, Some(Tag::Part("P1".into())), rect);
    }
    for (low, high) in [(up[1], up[2]), (up[3], up[4]), (up[5], up[6])] {
        for bay in across[1..7].chunks(2) {
            let rect = Rect::new(bay[0], low, bay[1], high);
            view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, None, rect);
        }
    }
    view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, None, Rect::new(18.0, 0.0, 1182.0, 80.0));
    view.chains.push(Chain::through(Side::Below, &at(&across), format));
    view.chains.push(Chain::through(Side::Below, &at(&[0.0, 1200.0]), format));
    view.chains.push(Chain::through(Side::Left, &at(&up), format));
    view.chains.push(Chain::through(Side::Left, &at(&[0.0, 880.0]), format));
    view.chains.push(Chain::through(Side::Right, &at(&[0.0, 80.0, 880.0]), format));
    view.chains.extend(Chain::baselines(Side::Above, Length::ZERO, &at(&[18.0, 427.0, 845.0]), format));
    for (index, bay) in across[1..7].chunks(2).enumerate() {
        view.labels.push(Label {
            within: Rect::new(bay[0], up[2], bay[1], up[3]),
            lines: vec![format!("bay {}", index + 1), "crate 600 × 400".to_owned()],
            tag: Some(Tag::Bay(index.to_string())),
        });
    }
    view
}

fn boxed(id: &str, title: &str, axes: Axes, rect: Rect) -> View {
    let mut view = View::new(id, title, axes);
    view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, None, rect);
    let (from, to) = (rect.center() - (0.0, rect.height()), rect.center() + (0.0, rect.height()));
    view.geometry.segment(Layer::Centre, LineClass::Centre, None, from.lerp(to, 0.2), from.lerp(to, 0.8));
    view.chains.push(Chain::through(Side::Below, &at(&[rect.x0, rect.x1]), format));
    view
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let dir = std::path::PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "target/sheet_sample".to_owned()));
    std::fs::create_dir_all(&dir)?;
    let block = TitleBlock {
        legal_owner: "Example workshop".into(),
        title: "Wäschenische".into(),
        supplementary_title: "Assembly".into(),
        identification_number: "CW-0001".into(),
        revision: "A".into(),
        date_of_issue: "2024-03-01".into(),
        creator: "A. Example".into(),
        document_type: "Assembly drawing".into(),
        unit: "mm".into(),
        language: "en".into(),
        ..TitleBlock::default()
    };
    let front = front();
    let side = boxed("side", "Section A–A", Axes::FROM_LEFT, Rect::new(0.0, 0.0, 580.0, 880.0));
    let plan = boxed("plan", "Section B–B", Axes::FROM_ABOVE, Rect::new(0.0, -580.0, 1200.0, 0.0));
    let views = [(Place::Front, &front), (Place::FromLeft, &side), (Place::FromAbove, &plan)];
    let style = DimensionStyle::default();
    let (a3, _) = compose(&views, Format::A3, Scale::FULL, &style, block.clone())?;
    let (a4, _) = compose(&views[..1], Format::A4, Scale::FULL, &style, block.clone())?;
    let table = Table {
        columns: vec![
            Column::code("No."),
            Column::words("Name"),
            Column::figures("Length"),
            Column::figures("Width"),
            Column::figures("Thickness"),
            Column::words("Material"),
        ],
        rows: (1..60)
            .map(|index| Row {
                cells: vec![
                    format!("P{index:02}"),
                    "shelf over the drawer".into(),
                    "564,5".into(),
                    "280".into(),
                    "18".into(),
                    "Plywood, beech, oiled".into(),
                ],
                tag: None,
                is_section: false,
            })
            .collect(),
    };
    let mut sheets = vec![a3, a4];
    let space = Format::A4.drawing_space();
    for piece in table.lay_out(170.0, &[], 215.0) {
        let mut sheet = Sheet::new(Format::A4, block.clone());
        let shift = casewright_drawing::kurbo::Affine::translate((space.x0 + 5.0, space.y1 - 12.0));
        sheet.content.append_mapped(&piece, shift);
        sheets.push(sheet);
    }
    number_sheets(&mut sheets);
    for sheet in &sheets {
        for collision in collisions(&sheet.display()) {
            eprintln!("sheet {}: {collision:?}", sheet.title_block.sheet_number);
        }
        std::fs::write(dir.join(format!("sheet-{}.svg", sheet.title_block.sheet_number)), svg_sheet(sheet))?;
    }
    std::fs::write(dir.join("sample.pdf"), pdf_pack(&sheets, "Sample")?)?;
    let pack: Vec<Sheet> = sheets.iter().cycle().take(30).cloned().collect();
    let start = std::time::Instant::now();
    let bytes = pdf_pack(&pack, "Pack")?;
    eprintln!("30 sheets: {} bytes in {:?}", bytes.len(), start.elapsed());
    Ok(())
}
