//! Walks every length of a design with its place in the file, and rebuilds the tree with what each one becomes.

use super::{
    Access, Air, AsBuilt, Assumed, Back, Banding, Bay, Board, Bracket, Carcass, Construction, CutOut, Damper, Design,
    Envelope, Extent, Fitting, FlapStay, FloorPoint, Front, FrontPoint, FrontStep, Handle, Hinge, Holding, Inside,
    JointChoice, JointKind, Lead, LidStay, LidString, Material, MeasuredOpening, NeighbourWorktop, Niche, Obstacle,
    ObstacleShape, Opening, Overhang, OwnPullOut, Saw, Shell, Site, Slide, Stand, Strut, Swing, Thing, TiltStay,
    TiltStop, Top, TopShape, Usual, WallPoint, Want, Worktop,
};
use crate::expr::Dim;
use crate::text::FieldPath;

/// What a length may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Above zero: a size.
    AboveZero,
    /// Zero or more: a gap or a distance.
    ZeroOrMore,
    /// Anything: a place or an offset.
    Any,
}

/// The design with each length replaced by what `each` makes of it; `each` is told where in the file it stands and what
/// it may be. Lengths are visited in the order of the file layout.
pub fn map_lengths<L, M>(design: &Design<L>, each: &mut dyn FnMut(&L, &FieldPath, Sign) -> M) -> Design<M> {
    let root = FieldPath::root();
    let mut walk = Walk { each };
    Design {
        schema: design.schema,
        title: design.title.clone(),
        sheet: design.sheet.clone(),
        unit: design.unit,
        parameters: design.parameters.clone(),
        site: walk.site(&design.site, &root.field("site")),
        things: design
            .things
            .iter()
            .map(|(name, it)| (name.clone(), walk.thing(it, &root.field("things").key(name))))
            .collect(),
        materials: design
            .materials
            .iter()
            .map(|(name, it)| (name.clone(), walk.material(it, &root.field("materials").key(name))))
            .collect(),
        banding: design
            .banding
            .iter()
            .map(|(name, it)| (name.clone(), walk.banding(it, &root.field("banding").key(name))))
            .collect(),
        boards: design
            .boards
            .iter()
            .enumerate()
            .map(|(i, it)| walk.board(it, &root.field("boards").index(i)))
            .collect(),
        saw: walk.saw(&design.saw, &root.field("saw")),
        supplies: design.supplies.clone(),
        fittings: design
            .fittings
            .iter()
            .map(|(name, it)| (name.clone(), walk.fitting(it, &root.field("fittings").key(name))))
            .collect(),
        assumed: walk.assumed(&design.assumed, &root.field("assumed")),
        carcass: walk.carcass(&design.carcass, &root.field("carcass")),
        as_built: walk.as_built(&design.as_built, &root.field("as_built")),
        arrange: design.arrange.clone(),
        progress: design.progress.clone(),
    }
}

/// The same design with another text for the length at `at`; none if no length stands there.
#[must_use]
pub fn with_length(design: &Design<Dim>, at: &FieldPath, to: &Dim) -> Option<Design<Dim>> {
    let mut found = false;
    let changed = map_lengths(design, &mut |dim, path, _| {
        if path == at {
            found = true;
            to.clone()
        } else {
            dim.clone()
        }
    });
    found.then_some(changed)
}

/// The state of one walk.
struct Walk<'e, L, M> {
    each: &'e mut dyn FnMut(&L, &FieldPath, Sign) -> M,
}

impl<L, M> Walk<'_, L, M> {
    fn size(&mut self, it: &L, at: &FieldPath) -> M {
        (self.each)(it, at, Sign::AboveZero)
    }

    fn gap(&mut self, it: &L, at: &FieldPath) -> M {
        (self.each)(it, at, Sign::ZeroOrMore)
    }

    fn place(&mut self, it: &L, at: &FieldPath) -> M {
        (self.each)(it, at, Sign::Any)
    }

    fn maybe_size(&mut self, it: Option<&L>, at: &FieldPath) -> Option<M> {
        it.map(|it| self.size(it, at))
    }

    fn maybe_gap(&mut self, it: Option<&L>, at: &FieldPath) -> Option<M> {
        it.map(|it| self.gap(it, at))
    }

    fn site(&mut self, it: &Site<L>, at: &FieldPath) -> Site<M> {
        Site {
            niche: it.niche.as_ref().map(|niche| self.niche(niche, &at.field("niche"))),
            obstacles: (it.obstacles.iter().enumerate())
                .map(|(i, it)| self.obstacle(it, &at.field("obstacles").index(i)))
                .collect(),
            neighbour_worktop: (it.neighbour_worktop.as_ref())
                .map(|it| self.neighbour(it, &at.field("neighbour_worktop"))),
            floor: it
                .floor
                .iter()
                .enumerate()
                .map(|(i, it)| self.floor_point(it, &at.field("floor").index(i)))
                .collect(),
            walls: (it.walls.iter().enumerate())
                .map(|(i, it)| self.wall_point(it, &at.field("walls").index(i)))
                .collect(),
        }
    }

    fn niche(&mut self, it: &Niche<L>, at: &FieldPath) -> Niche<M> {
        Niche {
            width: self.size(&it.width, &at.field("width")),
            height: self.maybe_size(it.height.as_ref(), &at.field("height")),
            above: it.above.clone(),
            depth: self.maybe_size(it.depth.as_ref(), &at.field("depth")),
            left_wall: it.left_wall,
            right_wall: it.right_wall,
        }
    }

    fn obstacle(&mut self, it: &Obstacle<L>, at: &FieldPath) -> Obstacle<M> {
        let (corner, size) = (at.field("corner"), at.field("size"));
        Obstacle {
            name: it.name.clone(),
            kind: it.kind,
            corner: (
                self.place(&it.corner.0, &corner.index(0)),
                self.place(&it.corner.1, &corner.index(1)),
                self.place(&it.corner.2, &corner.index(2)),
            ),
            size: (
                self.size(&it.size.0, &size.index(0)),
                self.size(&it.size.1, &size.index(1)),
                self.size(&it.size.2, &size.index(2)),
            ),
            keep_clear: self.maybe_gap(it.keep_clear.as_ref(), &at.field("keep_clear")),
            shape: match &it.shape {
                ObstacleShape::Box => ObstacleShape::Box,
                ObstacleShape::Upright(points) => ObstacleShape::Upright(self.points(points, &at.field("shape"))),
                ObstacleShape::Lengthwise(points) => ObstacleShape::Lengthwise(self.points(points, &at.field("shape"))),
            },
            swing: it.swing.as_ref().map(|it| {
                let about = at.field("swing").field("about");
                Swing {
                    about: (self.place(&it.about.0, &about.index(0)), self.place(&it.about.1, &about.index(1))),
                    opens_deg: it.opens_deg,
                }
            }),
        }
    }

    fn points(&mut self, points: &[(L, L)], at: &FieldPath) -> Vec<(M, M)> {
        points
            .iter()
            .enumerate()
            .map(|(i, (a, b))| {
                let at = at.index(i);
                (self.place(a, &at.index(0)), self.place(b, &at.index(1)))
            })
            .collect()
    }

    fn neighbour(&mut self, it: &NeighbourWorktop<L>, at: &FieldPath) -> NeighbourWorktop<M> {
        NeighbourWorktop {
            height: self.size(&it.height, &at.field("height")),
            thickness: self.size(&it.thickness, &at.field("thickness")),
            depth: self.size(&it.depth, &at.field("depth")),
            on_left: it.on_left,
        }
    }

    fn wall_point(&mut self, it: &WallPoint<L>, at: &FieldPath) -> WallPoint<M> {
        let place = at.field("at");
        WallPoint {
            wall: it.wall,
            at: (
                self.place(&it.at.0, &place.index(0)),
                self.place(&it.at.1, &place.index(1)),
                self.place(&it.at.2, &place.index(2)),
            ),
        }
    }

    fn as_built(&mut self, it: &AsBuilt<L>, at: &FieldPath) -> AsBuilt<M> {
        let (thickness, cut) = (at.field("thickness"), at.field("cut"));
        let (openings, diagonals) = (at.field("openings"), at.field("diagonals"));
        AsBuilt {
            thickness: (it.thickness.iter())
                .map(|(name, it)| (name.clone(), self.size(it, &thickness.key(name))))
                .collect(),
            cut: (it.cut.iter()).map(|(name, it)| (name.clone(), self.two_sizes(it, &cut.key(name)))).collect(),
            openings: (it.openings.iter())
                .map(|(name, it)| {
                    let at = openings.key(name);
                    let width = self.maybe_size(it.width.as_ref(), &at.field("width"));
                    let height = self.maybe_size(it.height.as_ref(), &at.field("height"));
                    (name.clone(), MeasuredOpening { width, height })
                })
                .collect(),
            diagonals: (it.diagonals.iter())
                .map(|(name, it)| (name.clone(), self.two_sizes(it, &diagonals.key(name))))
                .collect(),
        }
    }

    fn two_sizes(&mut self, it: &(L, L), at: &FieldPath) -> (M, M) {
        (self.size(&it.0, &at.index(0)), self.size(&it.1, &at.index(1)))
    }

    fn top_shape(&mut self, it: &TopShape<L>, at: &FieldPath) -> TopShape<M> {
        let (wall, corners) = (at.field("wall"), at.field("corners"));
        TopShape {
            wall: (it.wall.iter().enumerate())
                .map(|(i, (station, off))| {
                    let at = wall.index(i);
                    (self.place(station, &at.index(0)), self.place(off, &at.index(1)))
                })
                .collect(),
            within: self.maybe_size(it.within.as_ref(), &at.field("within")),
            corners: (
                self.maybe_gap(it.corners.0.as_ref(), &corners.index(0)),
                self.maybe_gap(it.corners.1.as_ref(), &corners.index(1)),
            ),
            step: it.step.as_ref().map(|it| {
                let at = at.field("step");
                FrontStep {
                    from: self.gap(&it.from, &at.field("from")),
                    length: self.maybe_size(it.length.as_ref(), &at.field("length")),
                    radius: self.maybe_size(it.radius.as_ref(), &at.field("radius")),
                    out: self.place(&it.out, &at.field("out")),
                }
            }),
            front: (it.front.iter().enumerate())
                .map(|(i, it)| self.front_point(it, &at.field("front").index(i)))
                .collect(),
            joints: (it.joints.iter().enumerate()).map(|(i, it)| self.size(it, &at.field("joints").index(i))).collect(),
            cut_outs: (it.cut_outs.iter().enumerate())
                .map(|(i, it)| self.cut_out(it, &at.field("cut_outs").index(i)))
                .collect(),
            router_bit: self.maybe_size(it.router_bit.as_ref(), &at.field("router_bit")),
        }
    }

    fn front_point(&mut self, it: &FrontPoint<L>, at: &FieldPath) -> FrontPoint<M> {
        let place = at.field("at");
        FrontPoint {
            at: (self.place(&it.at.0, &place.index(0)), self.place(&it.at.1, &place.index(1))),
            round: self.maybe_size(it.round.as_ref(), &at.field("round")),
            bow: it.bow.as_ref().map(|it| self.place(it, &at.field("bow"))),
        }
    }

    fn cut_out(&mut self, it: &CutOut<L>, at: &FieldPath) -> CutOut<M> {
        let corner = at.field("corner");
        CutOut {
            name: it.name.clone(),
            corner: (self.gap(&it.corner.0, &corner.index(0)), self.gap(&it.corner.1, &corner.index(1))),
            size: self.two_sizes(&it.size, &at.field("size")),
            radius: self.gap(&it.radius, &at.field("radius")),
        }
    }

    fn floor_point(&mut self, it: &FloorPoint<L>, at: &FieldPath) -> FloorPoint<M> {
        FloorPoint {
            x: self.place(&it.x, &at.field("x")),
            z: self.place(&it.z, &at.field("z")),
            height: self.place(&it.height, &at.field("height")),
        }
    }

    fn thing(&mut self, it: &Thing<L>, at: &FieldPath) -> Thing<M> {
        let size = at.field("size");
        Thing {
            kind: it.kind,
            size: (
                self.size(&it.size.0, &size.index(0)),
                self.size(&it.size.1, &size.index(1)),
                self.size(&it.size.2, &size.index(2)),
            ),
            mass_kg: it.mass_kg,
            load_kg: it.load_kg,
            air: self.air(&it.air, &at.field("air")),
            may_turn: it.may_turn,
            access: self.access(&it.access, &at.field("access")),
            pull_outs: (it.pull_outs.iter().enumerate())
                .map(|(i, it)| self.own_pull_out(it, &at.field("pull_outs").index(i)))
                .collect(),
            lead: it.lead.as_ref().map(|it| self.lead(it, &at.field("lead"))),
        }
    }

    fn own_pull_out(&mut self, it: &OwnPullOut<L>, at: &FieldPath) -> OwnPullOut<M> {
        let corner = at.field("corner");
        OwnPullOut {
            name: it.name.clone(),
            corner: (self.gap(&it.corner.0, &corner.index(0)), self.gap(&it.corner.1, &corner.index(1))),
            size: self.two_sizes(&it.size, &at.field("size")),
            travel: self.size(&it.travel, &at.field("travel")),
            depth: self.maybe_size(it.depth.as_ref(), &at.field("depth")),
            towards: it.towards,
        }
    }

    fn lead(&mut self, it: &Lead<L>, at: &FieldPath) -> Lead<M> {
        Lead {
            length: self.size(&it.length, &at.field("length")),
            from_left: self.maybe_gap(it.from_left.as_ref(), &at.field("from_left")),
            from_below: self.maybe_gap(it.from_below.as_ref(), &at.field("from_below")),
            socket: it.socket.clone(),
        }
    }

    fn opening(&mut self, it: &Opening<L>, at: &FieldPath) -> Opening<M> {
        Opening {
            panel: it.panel,
            bay: it.bay.clone(),
            size: self.two_sizes(&it.size, &at.field("size")),
            at: it.at.as_ref().map(|place| {
                let at = at.field("at");
                (self.gap(&place.0, &at.index(0)), self.gap(&place.1, &at.index(1)))
            }),
            free: it.free,
        }
    }

    fn assumed(&mut self, it: &Assumed<L>, at: &FieldPath) -> Assumed<M> {
        Assumed {
            sag: it.sag,
            growth: it.growth,
            shelves_carry: it.shelves_carry,
            wall: it.wall,
            fixed_to_wall: it.fixed_to_wall,
            body_height: self.maybe_size(it.body_height.as_ref(), &at.field("body_height")),
            ceiling: self.maybe_size(it.ceiling.as_ref(), &at.field("ceiling")),
            doorway: it.doorway.as_ref().map(|it| self.two_sizes(it, &at.field("doorway"))),
            corner: it.corner.as_ref().map(|it| self.two_sizes(it, &at.field("corner"))),
        }
    }

    fn air(&mut self, it: &Air<L>, at: &FieldPath) -> Air<M> {
        Air {
            sides: self.maybe_gap(it.sides.as_ref(), &at.field("sides")),
            left: self.maybe_gap(it.left.as_ref(), &at.field("left")),
            right: self.maybe_gap(it.right.as_ref(), &at.field("right")),
            top: self.maybe_gap(it.top.as_ref(), &at.field("top")),
            rear: self.maybe_gap(it.rear.as_ref(), &at.field("rear")),
            front: self.maybe_gap(it.front.as_ref(), &at.field("front")),
        }
    }

    fn access(&mut self, it: &Access<L>, at: &FieldPath) -> Access<M> {
        match it {
            Access::Open => Access::Open,
            Access::FrontDoor { opens, reach } => {
                Access::FrontDoor { opens: *opens, reach: self.gap(reach, &at.field("reach")) }
            }
            Access::Above { headroom } => Access::Above { headroom: self.gap(headroom, &at.field("headroom")) },
        }
    }

    fn material(&mut self, it: &Material<L>, at: &FieldPath) -> Material<M> {
        Material {
            thickness: self.size(&it.thickness, &at.field("thickness")),
            kind: it.kind,
            grain: it.grain,
            density_kg_m3: it.density_kg_m3,
            modulus_mpa: it.modulus_mpa,
            finish: it.finish.clone(),
        }
    }

    fn banding(&mut self, it: &Banding<L>, at: &FieldPath) -> Banding<M> {
        Banding {
            thickness: self.size(&it.thickness, &at.field("thickness")),
            width: self.maybe_size(it.width.as_ref(), &at.field("width")),
            sold_in: self.maybe_size(it.sold_in.as_ref(), &at.field("sold_in")),
            finish: it.finish.clone(),
        }
    }

    fn board(&mut self, it: &Board<L>, at: &FieldPath) -> Board<M> {
        let (size, spoilt) = (at.field("size"), at.field("spoilt"));
        Board {
            name: it.name.clone(),
            material: it.material.clone(),
            size: (self.size(&it.size.0, &size.index(0)), self.size(&it.size.1, &size.index(1))),
            thickness: self.maybe_size(it.thickness.as_ref(), &at.field("thickness")),
            quantity: it.quantity,
            source: it.source,
            family: it.family.clone(),
            spoilt: it.spoilt.as_ref().map(|(start, end, near, far)| {
                (
                    self.gap(start, &spoilt.index(0)),
                    self.gap(end, &spoilt.index(1)),
                    self.gap(near, &spoilt.index(2)),
                    self.gap(far, &spoilt.index(3)),
                )
            }),
            good: (it.good.iter().enumerate())
                .map(|(i, (x, y, length, width))| {
                    let good = at.field("good").index(i);
                    (
                        self.gap(x, &good.index(0)),
                        self.gap(y, &good.index(1)),
                        self.size(length, &good.index(2)),
                        self.size(width, &good.index(3)),
                    )
                })
                .collect(),
            banded: it.banded.clone(),
            finish: it.finish.clone(),
            only_for: it.only_for.clone(),
            price: it.price,
        }
    }

    fn saw(&mut self, it: &Saw<L>, at: &FieldPath) -> Saw<M> {
        let useful = at.field("useful");
        Saw {
            kerf: self.maybe_gap(it.kerf.as_ref(), &at.field("kerf")),
            trim: self.maybe_gap(it.trim.as_ref(), &at.field("trim")),
            useful: (it.useful.as_ref())
                .map(|(length, width)| (self.gap(length, &useful.index(0)), self.gap(width, &useful.index(1)))),
            least: it.least,
        }
    }

    fn fitting(&mut self, it: &Fitting<L>, at: &FieldPath) -> Fitting<M> {
        match it {
            Fitting::Slide(slide) => Fitting::Slide(Slide {
                mount: slide.mount,
                length: self.size(&slide.length, &at.field("length")),
                side_space: self.size(&slide.side_space, &at.field("side_space")),
                height: self.size(&slide.height, &at.field("height")),
                load_kg: slide.load_kg,
                extension: slide.extension,
            }),
            Fitting::Hinge(hinge) => Fitting::Hinge(Hinge {
                cup: self.size(&hinge.cup, &at.field("cup")),
                cup_depth: self.size(&hinge.cup_depth, &at.field("cup_depth")),
                opens_deg: hinge.opens_deg,
            }),
            Fitting::Handle(handle) => Fitting::Handle(Handle {
                holes_apart: self.maybe_size(handle.holes_apart.as_ref(), &at.field("holes_apart")),
                stands_out: self.size(&handle.stands_out, &at.field("stands_out")),
            }),
            Fitting::Stay(stay) => Fitting::Stay(LidStay {
                length: self.maybe_size(stay.length.as_ref(), &at.field("length")),
                holds_nm: stay.holds_nm,
            }),
            Fitting::Damper(damper) => Fitting::Damper(Damper {
                stroke: self.size(&damper.stroke, &at.field("stroke")),
                force_n: damper.force_n,
            }),
            Fitting::Strut(strut) => Fitting::Strut(Strut {
                length_in: self.size(&strut.length_in, &at.field("length_in")),
                length_out: self.size(&strut.length_out, &at.field("length_out")),
                force_n: strut.force_n,
                force_in_n: strut.force_in_n,
            }),
            Fitting::Bracket(bracket) => Fitting::Bracket(Bracket {
                leg: self.size(&bracket.leg, &at.field("leg")),
                width: self.size(&bracket.width, &at.field("width")),
                holds_n: bracket.holds_n,
            }),
            Fitting::Usual(usual) => {
                let mut size = |it: &Option<L>, name| self.maybe_size(it.as_ref(), &at.field(name));
                Fitting::Usual(Usual {
                    of: usual.of.clone(),
                    length: size(&usual.length, "length"),
                    load_kg: usual.load_kg,
                    extension: usual.extension,
                    side_space: size(&usual.side_space, "side_space"),
                    height: size(&usual.height, "height"),
                    cup: size(&usual.cup, "cup"),
                    cup_depth: size(&usual.cup_depth, "cup_depth"),
                    opens_deg: usual.opens_deg,
                    holes_apart: size(&usual.holes_apart, "holes_apart"),
                    stands_out: size(&usual.stands_out, "stands_out"),
                })
            }
        }
    }

    fn carcass(&mut self, it: &Carcass<L>, at: &FieldPath) -> Carcass<M> {
        Carcass {
            envelope: self.envelope(&it.envelope, &at.field("envelope")),
            construction: self.construction(&it.construction, &at.field("construction")),
            own_shell: it.own_shell,
            stand: self.stand(&it.stand, &at.field("stand")),
            worktop: it.worktop.as_ref().map(|it| self.worktop(it, &at.field("worktop"))),
            bay: self.bay(&it.bay, &at.field("bay")),
            openings: (it.openings.iter().enumerate())
                .map(|(i, it)| self.opening(it, &at.field("openings").index(i)))
                .collect(),
            ties: it.ties.clone(),
            joints: (it.joints.iter().enumerate())
                .map(|(i, it)| self.joint_choice(it, &at.field("joints").index(i)))
                .collect(),
        }
    }

    fn envelope(&mut self, it: &Envelope<L>, at: &FieldPath) -> Envelope<M> {
        Envelope {
            width: self.extent(&it.width, &at.field("width")),
            height: self.extent(&it.height, &at.field("height")),
            depth: self.extent(&it.depth, &at.field("depth")),
            from_left: self.maybe_gap(it.from_left.as_ref(), &at.field("from_left")),
            from_wall: self.maybe_gap(it.from_wall.as_ref(), &at.field("from_wall")),
        }
    }

    fn extent(&mut self, it: &Extent<L>, at: &FieldPath) -> Extent<M> {
        match it {
            Extent::Fixed(size) => Extent::Fixed(self.size(size, at)),
            Extent::AtMost(size) => Extent::AtMost(self.size(size, at)),
            Extent::FillNiche => Extent::FillNiche,
            Extent::Snug => Extent::Snug,
        }
    }

    fn construction(&mut self, it: &Construction<L>, at: &FieldPath) -> Construction<M> {
        Construction {
            board: it.board.clone(),
            boards: it.boards.clone(),
            from_stock: it.from_stock.clone(),
            sides_run_through: it.sides_run_through,
            top: match &it.top {
                Top::Panel => Top::Panel,
                Top::Rails { width } => Top::Rails { width: self.size(width, &at.field("top").field("width")) },
                Top::None => Top::None,
            },
            back: self.back(&it.back, &at.field("back")),
            joint: self.joint_kind(&it.joint, &at.field("joint")),
            shelf_set_back: self.maybe_gap(it.shelf_set_back.as_ref(), &at.field("shelf_set_back")),
            fronts: it.fronts,
            reveal: self.maybe_gap(it.reveal.as_ref(), &at.field("reveal")),
            banding: it.banding.clone(),
        }
    }

    fn joint_kind(&mut self, it: &JointKind<L>, at: &FieldPath) -> JointKind<M> {
        match it {
            JointKind::Dowelled(dowel) => JointKind::Dowelled(dowel.clone()),
            JointKind::DowelledAndScrewed(dowel) => JointKind::DowelledAndScrewed(dowel.clone()),
            JointKind::Screwed => JointKind::Screwed,
            JointKind::Housed { depth } => JointKind::Housed { depth: self.size(depth, &at.field("depth")) },
            JointKind::Rebated { depth } => JointKind::Rebated { depth: self.size(depth, &at.field("depth")) },
            JointKind::Angled => JointKind::Angled,
        }
    }

    fn joint_choice(&mut self, it: &JointChoice<L>, at: &FieldPath) -> JointChoice<M> {
        JointChoice {
            of: it.of,
            bay: it.bay.clone(),
            to: it.to,
            to_bay: it.to_bay.clone(),
            by: it.by.as_ref().map(|it| self.joint_kind(it, &at.field("by"))),
            shift: it.shift.as_ref().map(|it| self.place(it, &at.field("shift"))),
        }
    }

    fn back(&mut self, it: &Back<L>, at: &FieldPath) -> Back<M> {
        match it {
            Back::None => Back::None,
            Back::Applied => Back::Applied,
            Back::Inset { set_back } => Back::Inset { set_back: self.gap(set_back, &at.field("set_back")) },
            Back::Grooved { set_back, depth } => Back::Grooved {
                set_back: self.gap(set_back, &at.field("set_back")),
                depth: self.size(depth, &at.field("depth")),
            },
            Back::Rebated { depth } => Back::Rebated { depth: self.size(depth, &at.field("depth")) },
        }
    }

    fn stand(&mut self, it: &Stand<L>, at: &FieldPath) -> Stand<M> {
        let at_height = at.field("height");
        match it {
            Stand::Floor => Stand::Floor,
            Stand::Plinth { height, set_back, load_kg } => Stand::Plinth {
                height: self.size(height, &at_height),
                set_back: self.gap(set_back, &at.field("set_back")),
                load_kg: *load_kg,
            },
            Stand::Feet { height, load_kg } => Stand::Feet { height: self.size(height, &at_height), load_kg: *load_kg },
            Stand::Castors { height, load_kg } => {
                Stand::Castors { height: self.size(height, &at_height), load_kg: *load_kg }
            }
        }
    }

    fn worktop(&mut self, it: &Worktop<L>, at: &FieldPath) -> Worktop<M> {
        let over = at.field("overhang");
        Worktop {
            board: it.board.clone(),
            overhang: Overhang {
                front: it.overhang.front.as_ref().map(|it| self.place(it, &over.field("front"))),
                left: it.overhang.left.as_ref().map(|it| self.place(it, &over.field("left"))),
                right: it.overhang.right.as_ref().map(|it| self.place(it, &over.field("right"))),
                rear: it.overhang.rear.as_ref().map(|it| self.place(it, &over.field("rear"))),
            },
            shape: it.shape.as_ref().map(|it| self.top_shape(it, &at.field("shape"))),
        }
    }

    fn bay(&mut self, it: &Bay<L>, at: &FieldPath) -> Bay<M> {
        Bay {
            name: it.name.clone(),
            width: self.want(&it.width, &at.field("width")),
            height: self.want(&it.height, &at.field("height")),
            share: it.share,
            inside: self.inside(&it.inside, &at.field("inside")),
            front: it.front.as_ref().map(|it| self.front(it, &at.field("front"))),
        }
    }

    fn front(&mut self, it: &Front<L>, at: &FieldPath) -> Front<M> {
        Front {
            opens: it.opens,
            style: it.style,
            board: it.board.clone(),
            handle: it.handle.clone(),
            brackets: it.brackets.clone(),
            stay: it.stay.as_ref().map(|it| Box::new(self.flap_stay(it, &at.field("stay")))),
        }
    }

    fn flap_stay(&mut self, it: &FlapStay<L>, at: &FieldPath) -> FlapStay<M> {
        FlapStay {
            carcass: self.end(&it.carcass, &at.field("carcass")),
            flap: self.end(&it.flap, &at.field("flap")),
            stop: self.tilt_stop(&it.stop, &at.field("stop")),
            with: it.with.clone(),
            both_sides: it.both_sides,
        }
    }

    fn tilt_stop(&mut self, it: &TiltStop<L>, at: &FieldPath) -> TiltStop<M> {
        match it {
            TiltStop::AtLargest => TiltStop::AtLargest,
            TiltStop::At(angle) => TiltStop::At(*angle),
            TiltStop::Long(length) => TiltStop::Long(self.size(length, at)),
        }
    }

    fn want(&mut self, it: &Want<L>, at: &FieldPath) -> Want<M> {
        match it {
            Want::Free => Want::Free,
            Want::Fixed(size) => Want::Fixed(self.size(size, at)),
            Want::AtLeast(size) => Want::AtLeast(self.gap(size, at)),
            Want::AtMost(size) => Want::AtMost(self.size(size, at)),
            Want::Between(low, high) => Want::Between(self.gap(low, &at.index(0)), self.size(high, &at.index(1))),
            Want::Prefer(size) => Want::Prefer(self.size(size, at)),
        }
    }

    fn inside(&mut self, it: &Inside<L>, at: &FieldPath) -> Inside<M> {
        let inner = at.field("bays");
        match it {
            Inside::Open { shelves } => Inside::Open { shelves: *shelves },
            Inside::Holds { things, by } => {
                Inside::Holds { things: things.clone(), by: self.holding(by, &at.field("by")) }
            }
            Inside::Across { bays, by } => Inside::Across { bays: self.bays(bays, &inner), by: by.clone() },
            Inside::Up { bays, by } => Inside::Up { bays: self.bays(bays, &inner), by: by.clone() },
            Inside::Boxed { shell, bay } => Inside::Boxed {
                shell: Shell {
                    gap: self.maybe_gap(shell.gap.as_ref(), &at.field("shell").field("gap")),
                    construction: (shell.construction.as_ref())
                        .map(|it| self.construction(it, &at.field("shell").field("construction"))),
                    joint: shell.joint.as_ref().map(|it| self.joint_kind(it, &at.field("shell").field("joint"))),
                },
                bay: Box::new(self.bay(bay, &at.field("bay"))),
            },
        }
    }

    fn bays(&mut self, bays: &[Bay<L>], at: &FieldPath) -> Vec<Bay<M>> {
        bays.iter().enumerate().map(|(i, it)| self.bay(it, &at.index(i))).collect()
    }

    fn holding(&mut self, it: &Holding<L>, at: &FieldPath) -> Holding<M> {
        match it {
            Holding::Standing => Holding::Standing,
            Holding::Shelf { under } => Holding::Shelf { under: self.gap(under, &at.field("under")) },
            Holding::PullOut { slide, board, strips } => Holding::PullOut {
                slide: slide.clone(),
                board: board.clone(),
                strips: self.maybe_size(strips.as_ref(), &at.field("strips")),
            },
            Holding::Drawer { slide, board, bottom } => {
                Holding::Drawer { slide: slide.clone(), board: board.clone(), bottom: bottom.clone() }
            }
            Holding::TiltOut { hinge, opens_deg, lid, board, stay } => Holding::TiltOut {
                hinge: *hinge,
                opens_deg: *opens_deg,
                lid: *lid,
                board: board.clone(),
                stay: stay.as_ref().map(|it| Box::new(self.tilt_stay(it, &at.field("stay")))),
            },
        }
    }

    fn tilt_stay(&mut self, it: &TiltStay<L>, at: &FieldPath) -> TiltStay<M> {
        TiltStay {
            carcass: self.end(&it.carcass, &at.field("carcass")),
            compartment: self.end(&it.compartment, &at.field("compartment")),
            stop: self.tilt_stop(&it.stop, &at.field("stop")),
            with: it.with.clone(),
            both_sides: it.both_sides,
            lid: it.lid.as_ref().map(|it| {
                let at = at.field("lid");
                LidString {
                    hinge: self.end(&it.hinge, &at.field("hinge")),
                    carcass: self.end(&it.carcass, &at.field("carcass")),
                    lid: self.end(&it.lid, &at.field("lid")),
                    pulley: it.pulley.as_ref().map(|it| self.end(it, &at.field("pulley"))),
                    starts_deg: it.starts_deg,
                }
            }),
        }
    }

    /// An end of a string: behind the front, and away from the hinge to either side.
    fn end(&mut self, it: &(L, L), at: &FieldPath) -> (M, M) {
        (self.gap(&it.0, &at.index(0)), self.place(&it.1, &at.index(1)))
    }
}
