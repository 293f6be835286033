//! Declaring sections and choices of the scenario file: types written down once, from which the
//! reader, the known keys and the schema all follow.

/// Declares a section: a struct with its reader and schema, and a row for each of its keys. How a row
/// reads is told in [`crate::row`]. `one of a | b` is a group of keys of which exactly one is given;
/// in `one of a & b | c` the first two may stand together.
macro_rules! section {
    (
        $(#[doc = $doc:literal])+
        $name:ident $(, one of $($($group:ident)&+)|+)* {
            $(
                $(#[doc = $help:literal])+
                $key:ident: $type:ty,
                    $label:literal $(in $page:literal)? $(, else $else:literal $(because $why:literal)?)?;
            )+
        }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Debug)]
        #[allow(dead_code, reason = "of some keys only the presence counts")]
        pub(crate) struct $name {
            /// Where it stands.
            pub(crate) at: $crate::document::At,
            $( $(#[doc = $help])+ pub(crate) $key: $type, )+
        }

        /// The rows, each named for its key.
        #[allow(non_upper_case_globals, dead_code, reason = "named for keys; read by some only")]
        impl $name {
            $( pub(crate) const $key: $crate::row::Row<$type> = $crate::row::Row {
                key: stringify!($key),
                label: $label,
                otherwise: $crate::declare::otherwise!($($else $(because $why)?)?),
                of: std::marker::PhantomData,
            }; )+
        }

        impl $crate::read::Read for $name {
            fn read(
                node: &$crate::document::Node,
                issues: &mut $crate::issue::Issues,
            ) -> Option<Self> {
                let sound = $crate::section::check::<Self>(node, issues);
                if !matches!(node.json, $crate::document::Json::Object(_)) {
                    return None;
                }
                // Every key is read before any is given up, so that all problems are told.
                $( let $key = Self::$key.read(node, issues); )+
                sound?;
                Some(Self { at: node.at.clone(), $( $key: $key?, )+ })
            }
            fn expects() -> String {
                concat!("an object { ", $( stringify!($key), " ", )+ "}").to_owned()
            }
            fn schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                generator.subschema_for::<Self>()
            }
        }

        impl $crate::section::Section for $name {
            const KEYS: &'static [&'static str] = &[$( stringify!($key) ),+];
            const GROUPS: &'static [$crate::section::Group] =
                &[$( &[$( &[$( stringify!($group) ),+] ),+] ),*];
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).trim_end_matches("File").to_lowercase().into()
            }
            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                use $crate::read::Read;
                let keys = vec![$( $crate::section::Key {
                    name: stringify!($key),
                    label: $label,
                    help: concat!($( $help ),+),
                    group: concat!($( $page )?),
                    otherwise: Self::$key.otherwise,
                    schema: <$type>::schema(generator),
                } ),+];
                let groups = <Self as $crate::section::Section>::GROUPS;
                $crate::section::schema(concat!($( $doc ),+), keys, groups)
            }
        }
    };
}

/// What holds where a key is left out, as its row says it.
macro_rules! otherwise {
    () => {
        $crate::row::Else::Needed
    };
    ($words:literal) => {
        $crate::row::Else::Text($words)
    };
    ($value:literal because $why:literal) => {
        $crate::row::Else::Value($value, $why)
    };
}

/// Declares a choice of texts: an enum with its reader and schema.
macro_rules! choice {
    (
        $(#[doc = $doc:literal])+
        $visible:vis $name:ident { $( $(#[doc = $item_doc:literal])+ $item:ident = $text:literal, )+ }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        $visible enum $name { $( $(#[doc = $item_doc])+ $item, )+ }

        impl $crate::read::Read for $name {
            fn read(
                node: &$crate::document::Node,
                issues: &mut $crate::issue::Issues,
            ) -> Option<Self> {
                match &node.json {
                    $( $crate::document::Json::Text(text) if text == $text => Some(Self::$item), )+
                    _ => {
                        $crate::section::not_a_choice(node, &[$( $text ),+], issues);
                        None
                    }
                }
            }
            fn expects() -> String {
                [$( concat!("\"", $text, "\"") ),+].join(" or ")
            }
            fn schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                // What each means, in the keyword that editors show beside their suggestions.
                schemars::json_schema!({
                    "enum": [$( $text ),+],
                    "enumDescriptions": [$( concat!($( $item_doc ),+).trim() ),+],
                })
            }
        }

        impl $crate::read::Plain for $name {
            type Value = Self;
            const NONE: Self = [$( Self::$item ),+][0];
            fn plain(&self) -> Option<Self> {
                Some(*self)
            }
        }
    };
}

pub(crate) use {choice, otherwise, section};
