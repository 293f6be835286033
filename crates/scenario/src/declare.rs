//! Declaring sections and choices of the scenario file: types written down once, from which the
//! reader, the known keys and the schema all follow.

/// Declares a section: a struct with its reader and schema.
macro_rules! section {
    (
        $(#[doc = $doc:literal])+
        $name:ident $(, one of $($group:ident)|+)* {
            $( $(#[doc = $key_doc:literal])+ $key:ident: $type:ty, )+
        }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Debug)]
        #[allow(dead_code, reason = "of some keys only the presence counts")]
        pub(crate) struct $name {
            /// Where it stands.
            pub(crate) at: $crate::document::At,
            $( $(#[doc = $key_doc])+ pub(crate) $key: $type, )+
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
                $( let $key = $crate::section::read_key::<$type>(node, stringify!($key), issues); )+
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
            const GROUPS: &'static [&'static [&'static str]] =
                &[$( &[$( stringify!($group) ),+] ),*];
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).trim_end_matches("File").to_lowercase().into()
            }
            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                use $crate::read::Read;
                let keys = vec![$( $crate::section::Key {
                    name: stringify!($key),
                    doc: concat!($( $key_doc ),+),
                    required: <$type>::REQUIRED,
                    schema: <$type>::schema(generator),
                } ),+];
                let groups = <Self as $crate::section::Section>::GROUPS;
                $crate::section::schema(concat!($( $doc ),+), keys, groups)
            }
        }
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
                schemars::json_schema!({ "enum": [$( $text ),+] })
            }
        }
    };
}

pub(crate) use {choice, section};
