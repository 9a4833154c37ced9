use super::objects::{count, whole};

/// One step of a calculator function (ISO 32000-1, 7.10.5 and annex B).
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Step {
    Number(f64),
    Operator(String),
    If(Vec<Step>),
    IfElse(Vec<Step>, Vec<Step>),
}

/// Values on the stack; the standard asks for 100.
const MOST_VALUES: usize = 1000;
/// Braces inside braces.
const DEEPEST: usize = 32;
/// Steps in one program.
const MOST_STEPS: usize = 100_000;

/// Reads `{ … }`; `None` where the braces do not match or a word is no operator.
pub(super) fn read(program: &[u8]) -> Option<Vec<Step>> {
    let text: String = program.iter().map(|b| char::from(*b)).collect();
    let spaced = text.replace('{', " { ").replace('}', " } ");
    let words: Vec<&str> = spaced.lines().flat_map(|l| l.split('%').next().unwrap_or("").split_whitespace()).collect();
    if words.len() > MOST_STEPS {
        return None;
    }
    let mut words = words.into_iter();
    (words.next() == Some("{")).then(|| block(&mut words, 0)).flatten()
}

fn block<'w>(words: &mut impl Iterator<Item = &'w str>, depth: usize) -> Option<Vec<Step>> {
    if depth > DEEPEST {
        return None;
    }
    let mut steps = Vec::new();
    let mut blocks: Vec<Vec<Step>> = Vec::new();
    loop {
        match words.next()? {
            "{" => blocks.push(block(words, depth + 1)?),
            "}" => return blocks.is_empty().then_some(steps),
            "if" => steps.push(Step::If(blocks.pop()?)),
            "ifelse" => {
                let otherwise = blocks.pop()?;
                steps.push(Step::IfElse(blocks.pop()?, otherwise));
            }
            word => match word.parse::<f64>() {
                Ok(number) if number.is_finite() => steps.push(Step::Number(number)),
                _ if OPERATORS.contains(&word) => steps.push(Step::Operator(word.to_owned())),
                _ => return None,
            },
        }
    }
}

const OPERATORS: [&str; 40] = [
    "abs", "add", "and", "atan", "bitshift", "ceiling", "copy", "cos", "cvi", "cvr", "div", "dup", "eq", "exch", "exp",
    "false", "floor", "ge", "gt", "idiv", "index", "le", "ln", "log", "lt", "mod", "mul", "ne", "neg", "not", "or",
    "pop", "roll", "round", "sin", "sqrt", "sub", "true", "truncate", "xor",
];

/// Runs a program on `input` and gives the last `outputs` values; what goes wrong leaves zeros.
pub(super) fn run(steps: &[Step], input: &[f64], outputs: usize) -> Vec<f64> {
    let mut stack = input.to_vec();
    let _ = perform(steps, &mut stack);
    let start = stack.len().saturating_sub(outputs);
    let mut result = stack.split_off(start);
    result.resize(outputs, 0.0);
    result
}

fn perform(steps: &[Step], stack: &mut Vec<f64>) -> Option<()> {
    for step in steps {
        match step {
            Step::Number(v) => stack.push(*v),
            Step::If(then) => {
                if is_true(stack.pop()?) {
                    perform(then, stack)?;
                }
            }
            Step::IfElse(then, otherwise) => {
                let branch = if is_true(stack.pop()?) { then } else { otherwise };
                perform(branch, stack)?;
            }
            Step::Operator(name) => operate(name, stack)?,
        }
        if stack.len() > MOST_VALUES {
            return None;
        }
    }
    Some(())
}

fn is_true(v: f64) -> bool {
    v.abs() > f64::EPSILON
}

fn truth(v: bool) -> f64 {
    f64::from(u8::from(v))
}

fn operate(name: &str, stack: &mut Vec<f64>) -> Option<()> {
    match name {
        "true" => stack.push(1.0),
        "false" => stack.push(0.0),
        "pop" => drop(stack.pop()?),
        "dup" => stack.push(stack.last().copied()?),
        "exch" => {
            let (b, a) = (stack.pop()?, stack.pop()?);
            stack.extend([b, a]);
        }
        "copy" => {
            let n = count(stack.pop()?, MOST_VALUES);
            let start = stack.len().checked_sub(n)?;
            stack.extend_from_within(start..);
        }
        "index" => {
            let n = count(stack.pop()?, MOST_VALUES);
            let at = stack.len().checked_sub(n + 1)?;
            stack.push(stack.get(at).copied()?);
        }
        "roll" => {
            let turns = whole(stack.pop()?)?;
            let n = count(stack.pop()?, MOST_VALUES);
            let start = stack.len().checked_sub(n)?;
            let part = stack.get_mut(start..)?;
            if n > 0 {
                let turns = turns.rem_euclid(i64::try_from(n).ok()?);
                part.rotate_right(usize::try_from(turns).ok()?);
            }
        }
        "abs" | "ceiling" | "cos" | "cvi" | "cvr" | "floor" | "ln" | "log" | "neg" | "not" | "round" | "sin"
        | "sqrt" | "truncate" => {
            let v = stack.pop()?;
            stack.push(one(name, v));
        }
        _ => {
            let (b, a) = (stack.pop()?, stack.pop()?);
            stack.push(two(name, a, b)?);
        }
    }
    Some(())
}

fn one(name: &str, v: f64) -> f64 {
    match name {
        "abs" => v.abs(),
        "ceiling" => v.ceil(),
        "cos" => v.to_radians().cos(),
        "cvi" | "truncate" => v.trunc(),
        "floor" => v.floor(),
        "ln" => v.ln(),
        "log" => v.log10(),
        "neg" => -v,
        "not" => truth(!is_true(v)),
        "round" => v.round(),
        "sin" => v.to_radians().sin(),
        "sqrt" => v.sqrt(),
        _ => v,
    }
}

fn two(name: &str, a: f64, b: f64) -> Option<f64> {
    let bits = |f: fn(i64, i64) -> i64| Some(f(whole(a)?, whole(b)?) as f64);
    Some(match name {
        "add" => a + b,
        "sub" => a - b,
        "mul" => a * b,
        "div" => a / b,
        "idiv" => (a / b).trunc(),
        "mod" => a % b,
        "exp" => a.powf(b),
        "atan" => a.atan2(b).to_degrees().rem_euclid(360.0),
        "eq" => truth((a - b).abs() < f64::EPSILON),
        "ne" => truth((a - b).abs() >= f64::EPSILON),
        "ge" => truth(a >= b),
        "gt" => truth(a > b),
        "le" => truth(a <= b),
        "lt" => truth(a < b),
        "and" => return bits(|a, b| a & b),
        "or" => return bits(|a, b| a | b),
        "xor" => return bits(|a, b| a ^ b),
        "bitshift" => {
            let (value, by) = (whole(a)?, whole(b)?);
            let by32 = u32::try_from(by.unsigned_abs()).ok()?;
            let shifted = if by >= 0 { value.checked_shl(by32) } else { value.checked_shr(by32) };
            shifted.unwrap_or(0) as f64
        }
        _ => return None,
    })
}
