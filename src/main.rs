//! fairfold
fn main() {}
