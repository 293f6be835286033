//! Cautions, for report, move sheet and maintenance list. They restate common safety advice (farm
//! electricity safety programs; common practice where no source is named).

use super::text::{Text, texts};

texts! {
    LINES: "Power lines", "Cables de electricidad";
    LINES_WORDS: "Metal pipe conducts electricity. Look up first. Keep pipe and wheel lines at least 15 ft (4.6 m) from power lines, carry pipe level, move on calm days, store equipment at least 100 ft (30 m) from lines, and never let a jet reach a line.",
        "El tubo de metal conduce la electricidad. Primero mire hacia arriba. Mantenga tubos y líneas de ruedas al menos a 15 ft (4.6 m) de los cables, lleve el tubo a nivel, mueva en días sin viento, guarde el equipo al menos a 100 ft (30 m) de los cables y nunca deje que un chorro toque un cable.";
    UNDER_PRESSURE: "Pressure", "Presión";
    UNDER_PRESSURE_WORDS: "Hoses, valves and couplers under pressure can burst or whip. Shut the outlet, bleed off the pressure and drain the pipe before you uncouple or move anything.",
        "Mangueras, válvulas y acoples con presión pueden reventar o golpear. Cierre la toma, saque la presión y vacíe el tubo antes de desacoplar o mover algo.";
    ROLLING: "Rolling machinery", "Máquina que rueda";
    ROLLING_WORDS: "A rolling lateral does not stop for people, ditches or stones. Walk the path first, keep others clear, stand clear yourself, and keep hands and clothing away from the drive and wheels.",
        "Una línea que rueda no se detiene por gente, zanjas ni piedras. Recorra antes el camino, aleje a los demás, aléjese usted y mantenga manos y ropa lejos del motor y las ruedas.";
    PARKED: "Parked laterals and wind", "Línea estacionada y viento";
    PARKED_WORDS: "Wind can blow an empty lateral across the field. Brace or stake it after every move and whenever it stands idle.",
        "El viento puede llevarse una línea vacía por el campo. Afiáncela o estáquela después de cada cambio y siempre que esté estacionada.";
    CHEMICALS: "Chemicals in the water", "Químicos en el agua";
    CHEMICALS_WORDS: "When fertilizer or pesticide is injected, follow the label and the backflow protection rules, and keep people out of spray and drift. An uneven pattern is an uneven dose.",
        "Cuando se inyecta fertilizante o pesticida, siga la etiqueta y las reglas contra el reflujo, y mantenga a la gente fuera del agua y de lo que lleva el viento. Un riego disparejo es una dosis dispareja.";
    STOPS: "Stops away from the outlet", "Paradas lejos de la toma";
    STOPS_WORDS: "Check that the hose or swing joint really reaches each shifted stop without strain, kinks or dragging over the crop, and keep the rotation in order all season.",
        "Revise que la manguera o el brazo articulado llegue de verdad a cada parada sin tensión, sin dobleces y sin arrastrarse por el cultivo, y siga el orden de la rotación toda la temporada.";
    FIRST: "What comes first", "Lo que va primero";
    FIRST_WORDS: "Local codes, the maker’s manual and licensed practice come before anything printed here.",
        "Las leyes locales, el manual del fabricante y la práctica con licencia van antes que todo lo impreso aquí.";
    IN_SHORT: "Look up. Keep pipe and jets clear of power lines; carry pipe level, never upright. Shut off, bleed off the pressure and drain before you uncouple or move. Keep everyone clear of a rolling line. Brace or stake it after the move. Stay out of spray that carries chemicals. Local codes, the maker’s manual and licensed practice come before this sheet.",
        "Mire hacia arriba. Mantenga tubo y chorros lejos de los cables de electricidad; lleve el tubo a nivel, nunca parado. Cierre, saque la presión y vacíe antes de desacoplar o mover. Aleje a todos de una línea que rueda. Afiáncela o estáquela después del cambio. No se meta en agua con químicos. Las leyes locales, el manual del fabricante y la práctica con licencia van antes que esta hoja.";
}

/// What, and the words.
pub(crate) const ALL: [(Text, Text); 7] = [
    (LINES, LINES_WORDS),
    (UNDER_PRESSURE, UNDER_PRESSURE_WORDS),
    (ROLLING, ROLLING_WORDS),
    (PARKED, PARKED_WORDS),
    (CHEMICALS, CHEMICALS_WORDS),
    (STOPS, STOPS_WORDS),
    (FIRST, FIRST_WORDS),
];
