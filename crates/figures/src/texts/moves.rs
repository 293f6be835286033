//! Stops, moves, hoses and the machine.

use super::text::texts;

texts! {
    TURN: "{n}\u{a0}turn", "{n}\u{a0}vuelta";
    TURNS: "{n}\u{a0}turns", "{n}\u{a0}vueltas";
    OUTLET: "outlet {n}", "la toma {n}";
    FAR_EDGE: "the far edge", "el borde lejano";
    NEAR_EDGE: "the near edge", "el borde cercano";
    SHORT_FAR_EDGE: "far edge", "borde lejano";
    SHORT_NEAR_EDGE: "near edge", "borde cercano";
    AT_OUTLET: "at outlet {n}", "en la toma {n}";
    SHORT_AT_OUTLET: "at {n}", "en la {n}";
    PAST_OUTLET: "{far} past outlet {n}, toward {toward}", "{far} pasando la toma {n}, hacia {toward}";
    BEFORE_OUTLET: "{far} before outlet {n}, toward {toward}", "{far} antes de la toma {n}, hacia {toward}";
    SHORT_PAST: "{far} past {n}, toward {toward}", "{far} pasando la {n}, hacia {toward}";
    SHORT_BEFORE: "{far} before {n}, toward {toward}", "{far} antes de la {n}, hacia {toward}";
    FARTHER: "{far} farther from the mainline", "{far} más lejos de la tubería principal";
    NEARER: "{far} nearer to the mainline", "{far} más cerca de la tubería principal";
    WITH_PIPE: "{across}; pipe {along}", "{across}; tubo {along}";
    EVERY_OUTLET: "At every outlet", "En cada toma";
    PAST_EACH: "{far} PAST each outlet, toward the next higher number",
        "{far} PASANDO cada toma, hacia el número que sigue";
    BEFORE_EACH: "{far} BEFORE each outlet, toward the next lower number",
        "{far} ANTES de cada toma, hacia el número anterior";
    TWO_STOPS: "At two stops in turn, as each row says",
        "En dos paradas por turno, como dice cada renglón";
    AS_NEAR: "{place}, where whole turns bring it: each row says where",
        "{place}, donde la dejan las vueltas enteras: cada renglón dice dónde";
    STAY: "stay at this stop", "quédese en esta parada";
    START_HERE: "start here", "empiece aquí";
    AHEAD: "{far} ahead", "{far} adelante";
    BACK: "{far} back", "{far} atrás";
    THEN: "{first}, then {second}", "{first}, luego {second}";
    PACES: "{move} ({n}\u{a0}paces)", "{move} ({n}\u{a0}pasos)";
    TURNS_AND_DEGREES: "{move} ({turns} and {n}°)", "{move} ({turns} y {n}°)";
    TO_RIGHT_SIDE: "across the mainline to the right side",
        "al otro lado de la tubería principal, lado derecho";
    TO_LEFT_SIDE: "across the mainline to the left side",
        "al otro lado de la tubería principal, lado izquierdo";
    LINE: "line {n}", "línea {n}";
    RIGHT_SIDE: "right side", "lado derecho";
    LEFT_SIDE: "left side", "lado izquierdo";
    USUAL_COUPLING: "the usual coupling", "el acople de siempre";
    HOSE_BACK: "hose or swing joint, {far} back to the outlet",
        "manguera o brazo articulado, {far} atrás hasta la toma";
    HOSE_AHEAD: "hose or swing joint, {far} ahead to the outlet",
        "manguera o brazo articulado, {far} adelante hasta la toma";
    CATCH_UP: "CATCH-UP", "RECUPERAR";
    EXTRA_SET: "EXTRA SET", "RIEGO EXTRA";
    HELD: "HELD", "SE QUEDA";
    OTHER_STOP: "OTHER STOP", "OTRA PARADA";
    NEXT_STOP: "STOP {letter}", "PARADA {letter}";
    NOBODY_THERE: "nobody there to move the line", "no hay quien mueva la línea";
    WHEEL_LINE: "Wheel line, {far} per turn", "Línea de ruedas, {far} por vuelta";
    HAND_MOVE: "Hand-move line", "Línea de mano";
    LINES_AT_ONCE: "{n} of them at once, each with its own outlets. ",
        "{n} a la vez, cada una con sus tomas. ";
    LINES_BY_TURNS: "{n} of them by turns: one waters while the others are moved. ",
        "{n} por turnos: una riega mientras las otras se mueven. ";
    BOTH_SIDES: "Both sides of the mainline; right and left are meant looking in the direction of travel. ",
        "Los dos lados de la tubería principal; derecha e izquierda mirando hacia donde avanza la línea. ";
    MACHINE: "{kind}. {several}{sides}{n} outlets {apart} apart; hose or swing joint reaches {reach}. Order of sets: {order}",
        "{kind}. {several}{sides}{n} tomas cada {apart}; la manguera o el brazo articulado alcanza {reach}. Orden de los riegos: {order}";
    DRY_RETURN: "down the field, then back without watering", "de ida regando, de vuelta sin regar";
    BOTH_WAYS: "down the field in one pass, back in the next",
        "de ida en una pasada, de vuelta en la siguiente";
    EVERY_SECOND: "every second outlet down the field, the others on the way back",
        "una toma sí y una no de ida, las otras de vuelta";
    EVERY_SECOND_NEXT: "every second outlet down the field, the others on the way back at the next stop",
        "una toma sí y una no de ida, las otras de vuelta en la parada que sigue";
    LISTED: "as the rows say", "como dicen los renglones";
    DOWN_RIGHT_UP_LEFT: "down the right side of the mainline, then back up the left",
        "de ida por el lado derecho de la tubería principal, de vuelta por el izquierdo";
    SIDE_BY_ITSELF: "on each side of the mainline by itself, {order}",
        "en cada lado de la tubería principal por separado, {order}";
    EACH_LINE: "each line {order}", "cada línea {order}";
    PART_TURNS: "Some stops end at part of a turn. Set the line down where the row says, then walk it: every sprinkler must stand level before the water goes on.",
        "Algunas paradas terminan en parte de una vuelta. Deje la línea donde dice el renglón y recórrala a pie: cada aspersor debe quedar derecho antes de abrir el agua.";
    DRIFT_SHORT: "Roll whole turns only, sprinklers straight up. {n} turns leave you {far} short of the next outlet: the hose or swing joint takes that up. Each row says where the line then stands, and where a turn more or less is needed.",
        "Ruede solo vueltas enteras, con los aspersores derechos. Con {n} vueltas le faltan {far} para la toma que sigue: la manguera o el brazo articulado lo compensa. Cada renglón dice dónde queda la línea y dónde hace falta una vuelta más o menos.";
    DRIFT_PAST: "Roll whole turns only, sprinklers straight up. {n} turns carry you {far} past the next outlet: the hose or swing joint takes that up. Each row says where the line then stands, and where a turn more or less is needed.",
        "Ruede solo vueltas enteras, con los aspersores derechos. Con {n} vueltas se pasa {far} de la toma que sigue: la manguera o el brazo articulado lo compensa. Cada renglón dice dónde queda la línea y dónde hace falta una vuelta más o menos.";
}
