//! What a function can return instead of what it works out.

use syn::{GenericArgument, PathArguments, Type};

/// Values of a type, as source; none where the type says too little.
pub fn of(kind: &Type) -> Vec<String> {
    match kind {
        Type::Tuple(tuple) if tuple.elems.is_empty() => vec!["()".to_owned()],
        Type::Tuple(tuple) => {
            let firsts = tuple.elems.iter().map(|kind| of(kind).into_iter().next());
            let firsts: Option<Vec<String>> = firsts.collect();
            let joined = firsts.map(|firsts| format!("({})", firsts.join(", ")));
            joined.into_iter().collect()
        }
        Type::Reference(reference) => match &*reference.elem {
            Type::Path(path) if path.path.is_ident("str") => {
                vec!["\"\"".to_owned(), "\"other\"".to_owned()]
            }
            Type::Slice(_) if reference.mutability.is_none() => vec!["&[]".to_owned()],
            _ => Vec::new(),
        },
        Type::Path(path) => path.path.segments.last().map_or_else(Vec::new, named),
        _ => Vec::new(),
    }
}

fn named(segment: &syn::PathSegment) -> Vec<String> {
    let inner = || -> Vec<String> {
        let PathArguments::AngleBracketed(arguments) = &segment.arguments else {
            return Vec::new();
        };
        match arguments.args.first() {
            Some(GenericArgument::Type(kind)) => of(kind),
            _ => Vec::new(),
        }
    };
    let around = |around: &str| inner().iter().map(|v| format!("{around}({v})")).collect();
    let fixed: &[&str] = match segment.ident.to_string().as_str() {
        "bool" => &["true", "false"],
        "u8" | "u16" | "u32" | "u64" | "u128" | "usize" => &["0", "1"],
        "i8" | "i16" | "i32" | "i64" | "i128" | "isize" => &["0", "1", "-1"],
        "f32" | "f64" => &["0.0", "1.0", "-1.0"],
        "Millis" => &["0", "1"],
        "String" => &["String::new()", "\"other\".to_owned()"],
        "Vec" | "BTreeMap" | "BTreeSet" | "PathBuf" | "OsString" => &["Default::default()"],
        "Ordering" => &["std::cmp::Ordering::Equal"],
        "Option" => {
            let some: Vec<String> = around("Some");
            return std::iter::once("None".to_owned()).chain(some).collect();
        }
        "Result" => return around("Ok"),
        "Box" => return around("Box::new"),
        _ => &[],
    };
    fixed.iter().map(|value| (*value).to_owned()).collect()
}
