//! Cutting rectangles from boards and bars to length. Knows rectangles, bars, boards, kerf and grain; knows no furniture.
