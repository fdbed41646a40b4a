//! The types of the design file as their sources say: names, documentation, fields, and what holds where one is left out.

use std::collections::BTreeMap;
use std::path::Path;

use syn::{Attribute, Expr, Fields, GenericArgument, Item, Lit, Meta, PathArguments, Type};

/// A type of the file.
#[derive(Clone, Debug)]
pub struct Kind {
    /// Its name.
    pub name: String,
    /// What it is; paragraphs joined by empty lines.
    pub doc: String,
    /// What is written for it.
    pub shape: Shape,
    /// The types that it refers to, in the order of its fields.
    pub refers: Vec<String>,
}

/// What is written in a file for a type.
#[derive(Clone, Debug)]
pub enum Shape {
    /// Fields in parentheses.
    Fields(Vec<Field>),
    /// One of several words, some with more behind them.
    Choice(Vec<Variant>),
    /// Something that its documentation says.
    Plain,
}

/// A field.
#[derive(Clone, Debug)]
pub struct Field {
    /// Its name.
    pub name: String,
    /// What it means.
    pub doc: String,
    /// What it takes.
    pub takes: Takes,
    /// What holds where it is left out; none if it must be given.
    pub otherwise: Option<String>,
}

/// One of several words.
#[derive(Clone, Debug)]
pub struct Variant {
    /// The word.
    pub name: String,
    /// What it means.
    pub doc: String,
    /// Values behind it, without names.
    pub values: Vec<Takes>,
    /// Fields behind it.
    pub fields: Vec<Field>,
    /// Whether it is the usual one.
    pub usual: bool,
}

/// What is written for a value.
#[derive(Clone, Debug)]
pub enum Takes {
    /// A length.
    Length,
    /// A text in quotes.
    Text,
    /// A number.
    Number,
    /// A whole number.
    Whole,
    /// `true` or `false`.
    YesNo,
    /// A type of the file.
    Of(String),
    /// Several in parentheses.
    Tuple(Vec<Self>),
    /// A list.
    List(Box<Self>),
    /// Values by name, or by a word.
    Map(Box<Self>, Box<Self>),
    /// As the inner one, or left out.
    Optional(Box<Self>),
}

/// What the sources say, and what is wrong with them.
#[derive(Debug, Default)]
pub struct Sources {
    /// Files in reading order: what each is about, and the names of its types.
    pub files: Vec<(String, Vec<String>)>,
    /// All types by name.
    pub kinds: BTreeMap<String, Kind>,
    /// What is undocumented, or not understood.
    pub faults: Vec<String>,
}

/// What functions without parameters return, by their name, as it would be written in a file.
type Functions = BTreeMap<String, String>;

impl Sources {
    /// Reads source files, in this order.
    ///
    /// # Errors
    /// A file that is not there or is no Rust.
    pub fn read(folder: &Path, files: &[&str]) -> Result<Self, String> {
        let mut found = Self::default();
        let mut parsed = Vec::new();
        let mut usual = BTreeMap::new();
        for name in files {
            let text = std::fs::read_to_string(folder.join(name)).map_err(|error| format!("{name}: {error}"))?;
            let file = syn::parse_file(&text).map_err(|error| format!("{name}: {error}"))?;
            for item in &file.items {
                if let Item::Enum(it) = item {
                    let first = it.variants.iter().find(|variant| is_usual(&variant.attrs));
                    usual.extend(first.map(|variant| (it.ident.to_string(), variant.ident.to_string())));
                }
            }
            parsed.push((name, file));
        }
        for (name, file) in parsed {
            let functions = functions(&file.items);
            let mut reader = Reader { file: name, functions: &functions, usual: &usual, faults: Vec::new() };
            let kinds: Vec<Kind> = file.items.iter().filter_map(|item| reader.kind(item)).collect();
            found.faults.append(&mut reader.faults);
            found.files.push((doc(&file.attrs), kinds.iter().map(|kind| kind.name.clone()).collect()));
            found.kinds.extend(kinds.into_iter().map(|kind| (kind.name.clone(), kind)));
        }
        Ok(found)
    }

    /// The names of the types that a file can come to, from its root on.
    #[must_use]
    pub fn reached(&self, root: &str) -> Vec<String> {
        let mut reached = vec![root.to_owned()];
        let mut at = 0;
        while let Some(name) = reached.get(at).cloned() {
            for next in self.kinds.get(&name).map(|kind| kind.refers.as_slice()).unwrap_or_default() {
                if !reached.contains(next) {
                    reached.push(next.clone());
                }
            }
            at += 1;
        }
        reached
    }
}

fn functions(items: &[Item]) -> Functions {
    let body = |item: &Item| match item {
        Item::Fn(it) => match it.block.stmts.as_slice() {
            [syn::Stmt::Expr(value, None)] => Some((it.sig.ident.to_string(), written(value)?)),
            _ => None,
        },
        _ => None,
    };
    items.iter().filter_map(body).collect()
}

struct Reader<'a> {
    file: &'a str,
    functions: &'a Functions,
    usual: &'a BTreeMap<String, String>,
    faults: Vec<String>,
}

impl Reader<'_> {
    fn kind(&mut self, item: &Item) -> Option<Kind> {
        let (attrs, name, seen) = match item {
            Item::Struct(it) => (&it.attrs, it.ident.to_string(), &it.vis),
            Item::Enum(it) => (&it.attrs, it.ident.to_string(), &it.vis),
            _ => return None,
        };
        if matches!(seen, syn::Visibility::Inherited) {
            return None;
        }
        let mut refers = Vec::new();
        let plain = !derives(attrs, "Deserialize") || serde_word(attrs, "try_from").is_some();
        let shape = match item {
            _ if plain => Shape::Plain,
            Item::Struct(it) => {
                let all = serde_word(attrs, "default").is_some();
                Shape::Fields(self.fields(&name, &it.fields, all, &mut refers))
            }
            Item::Enum(it) => {
                let variants = it.variants.iter().map(|variant| {
                    let place = format!("{name}::{}", variant.ident);
                    let named = matches!(variant.fields, Fields::Named(_));
                    Variant {
                        name: variant.ident.to_string(),
                        doc: self.documented(&place, &variant.attrs),
                        values: if named {
                            Vec::new()
                        } else {
                            variant.fields.iter().map(|field| self.takes(&place, &field.ty, &mut refers)).collect()
                        },
                        fields: if named {
                            self.fields(&place, &variant.fields, false, &mut refers)
                        } else {
                            Vec::new()
                        },
                        usual: is_usual(&variant.attrs),
                    }
                });
                Shape::Choice(variants.collect())
            }
            _ => return None,
        };
        let doc = self.documented(&name, attrs);
        Some(Kind { name, doc, shape, refers })
    }

    fn fields(&mut self, of: &str, fields: &Fields, all: bool, refers: &mut Vec<String>) -> Vec<Field> {
        let named = fields.iter().filter_map(|field| Some((field.ident.as_ref()?.to_string(), field)));
        named
            .map(|(name, field)| {
                let place = format!("{of}.{name}");
                let takes = self.takes(&place, &field.ty, refers);
                let otherwise = match serde_word(&field.attrs, "default") {
                    Some(function) => Some(self.otherwise(&place, &function, &takes)),
                    // The reader takes a missing one of these for none, whatever it is told.
                    None if matches!(takes, Takes::Optional(_)) => Some("none".to_owned()),
                    None if all => Some(self.otherwise(&place, "", &takes)),
                    None => None,
                };
                Field { doc: self.documented(&place, &field.attrs), name, takes, otherwise }
            })
            .collect()
    }

    fn documented(&mut self, place: &str, attrs: &[Attribute]) -> String {
        let text = doc(attrs);
        if text.trim().is_empty() {
            self.faults.push(format!("{}: {place} has no documentation", self.file));
        }
        text
    }

    /// What holds where a field is left out, by the function that serde calls for it; empty for the type's own default.
    fn otherwise(&mut self, place: &str, function: &str, takes: &Takes) -> String {
        let own = function.is_empty() || function.ends_with("::default") || function.ends_with("::new");
        let said = if own {
            match takes {
                Takes::Of(name) => match self.usual.get(name) {
                    Some(word) => Some(format!("`{word}`")),
                    None => Some("nothing said".to_owned()),
                },
                Takes::YesNo => Some("`false`".to_owned()),
                Takes::Number | Takes::Whole => Some("0".to_owned()),
                Takes::Text | Takes::List(_) | Takes::Map(..) | Takes::Optional(_) => Some("none".to_owned()),
                Takes::Length | Takes::Tuple(_) => None,
            }
        } else {
            self.functions.get(function).cloned()
        };
        said.unwrap_or_else(|| {
            self.faults.push(format!("{}: {place}: what `{function}` gives is not understood", self.file));
            String::new()
        })
    }

    fn takes(&mut self, place: &str, kind: &Type, refers: &mut Vec<String>) -> Takes {
        if let Type::Tuple(tuple) = kind {
            return Takes::Tuple(tuple.elems.iter().map(|it| self.takes(place, it, refers)).collect());
        }
        let Type::Path(path) = kind else {
            self.faults.push(format!("{}: the type of {place} is not understood", self.file));
            return Takes::Text;
        };
        let Some(last) = path.path.segments.last() else { return Takes::Text };
        let mut inner = Vec::new();
        if let PathArguments::AngleBracketed(arguments) = &last.arguments {
            let types = arguments.args.iter().filter_map(|it| match it {
                GenericArgument::Type(kind) => Some(kind),
                _ => None,
            });
            inner.extend(types);
        }
        match (last.ident.to_string().as_str(), inner.as_slice()) {
            ("L", _) => Takes::Length,
            ("String", _) => Takes::Text,
            ("f64", _) => Takes::Number,
            ("u32" | "u8" | "usize", _) => Takes::Whole,
            ("bool", _) => Takes::YesNo,
            ("Box", [one]) => self.takes(place, one, refers),
            ("Option", [one]) => Takes::Optional(Box::new(self.takes(place, one, refers))),
            ("Vec", [one]) => Takes::List(Box::new(self.takes(place, one, refers))),
            ("IndexMap" | "BTreeMap", [key, value]) => {
                let key = self.takes(place, key, refers);
                Takes::Map(Box::new(key), Box::new(self.takes(place, value, refers)))
            }
            (name, _) => {
                if !refers.iter().any(|it| it == name) {
                    refers.push(name.to_owned());
                }
                Takes::Of(name.to_owned())
            }
        }
    }
}

/// A value of the source as it would be written in a file.
fn written(value: &Expr) -> Option<String> {
    match value {
        Expr::Lit(it) => match &it.lit {
            Lit::Bool(yes) => Some(format!("`{}`", yes.value)),
            Lit::Float(number) => Some(number.base10_parse::<f64>().ok()?.to_string()),
            Lit::Int(number) => Some(number.base10_digits().to_owned()),
            Lit::Str(text) => Some(format!("`\"{}\"`", text.value())),
            _ => None,
        },
        Expr::Path(it) => match it.path.segments.last()?.ident.to_string().as_str() {
            "None" if it.path.segments.len() == 1 => Some("none".to_owned()),
            word => Some(format!("`{word}`")),
        },
        Expr::MethodCall(it) if it.method == "to_owned" => written(&it.receiver),
        Expr::Call(it) => {
            let Expr::Path(function) = it.func.as_ref() else { return None };
            let word = function.path.segments.last()?.ident.to_string();
            if word == "new" {
                return Some("none".to_owned());
            }
            let inner: Option<Vec<String>> = it.args.iter().map(written).collect();
            Some(format!("`{word}({})`", inner?.join(", ").replace('`', "")))
        }
        Expr::Tuple(it) => {
            let inner: Option<Vec<String>> = it.elems.iter().map(written).collect();
            let inner = inner?;
            Some(if inner.iter().all(|it| it == "none") { "none".to_owned() } else { inner.join(", ") })
        }
        Expr::Struct(it) => {
            let none = it.fields.iter().all(|field| written(&field.expr).is_some_and(|it| it == "none"));
            none.then(|| "nothing said".to_owned())
        }
        _ => None,
    }
}

fn doc(attrs: &[Attribute]) -> String {
    let line = |attr: &Attribute| match &attr.meta {
        Meta::NameValue(it) if it.path.is_ident("doc") => match &it.value {
            Expr::Lit(it) => match &it.lit {
                Lit::Str(text) => Some(text.value().trim().to_owned()),
                _ => None,
            },
            _ => None,
        },
        _ => None,
    };
    attrs.iter().filter_map(line).collect::<Vec<_>>().join("\n").trim().to_owned()
}

fn is_usual(attrs: &[Attribute]) -> bool {
    attrs.iter().any(|attr| matches!(&attr.meta, Meta::Path(path) if path.is_ident("default")))
}

fn derives(attrs: &[Attribute], what: &str) -> bool {
    attrs.iter().filter(|attr| attr.path().is_ident("derive")).any(|attr| {
        let mut found = false;
        let _not_a_list = attr.parse_nested_meta(|it| {
            found |= it.path.is_ident(what);
            Ok(())
        });
        found
    })
}

/// What serde is told by this word: the text after it, empty if there is none.
fn serde_word(attrs: &[Attribute], word: &str) -> Option<String> {
    let mut found = None;
    for attr in attrs.iter().filter(|attr| attr.path().is_ident("serde")) {
        let _not_a_list = attr.parse_nested_meta(|it| {
            let text = match it.value() {
                Ok(value) => value.parse::<syn::LitStr>()?.value(),
                Err(_) => String::new(),
            };
            if it.path.is_ident(word) {
                found = Some(text);
            }
            Ok(())
        });
    }
    found
}
