//! Move times in the cold, and the crop against the pipe.

use super::text::texts;

texts! {
    GAP_ENOUGH: "The gap of {gap} is long enough for a move in any irrigating weather.",
        "El tiempo de {gap} alcanza para un cambio en cualquier clima de riego.";
    GAP_TOO_SHORT: "The gap of {gap} is too short for a move at any temperature.",
        "El tiempo de {gap} no alcanza para un cambio a ninguna temperatura.";
    GAP_IN_COLD: "Below {limit} a move takes longer than the gap of {gap}; at {cold} it takes {time}{beyond}. Then the gap is too short and the next set starts late.",
        "A menos de {limit} un cambio tarda más que los {gap} disponibles; a {cold} tarda {time}{beyond}. Entonces el riego que sigue empieza tarde.";
    SEASON_MOVES: "In the simulated season (coldest move at {coldest}) {slow} of {all} moves take longer than the gap of {gap}. All moves together take {hours} h of labor for one person, {each} each on average.",
        "En la temporada simulada (el cambio más frío a {coldest}), {slow} de {all} cambios tardan más que los {gap} disponibles. Todos los cambios juntos son {hours} h de trabajo para una persona, {each} cada uno en promedio.";
    NO_SPARE: "The day’s sets leave no time to spare: a slow move cuts into the next set.",
        "Los riegos del día no dejan tiempo libre: un cambio lento le quita al riego que sigue.";
    SPARE: "The day’s sets leave {time} to spare.", "Los riegos del día dejan {time} libres.";
    FITTED: "Fitted to moves timed between {coldest} and {warmest}: time grows with the oil’s viscosity to the power of {power}. This form is ours, not published. The oil is assumed to be as warm as the air.",
        "Ajustado a cambios medidos entre {coldest} y {warmest}: el tiempo crece con la viscosidad del aceite a la potencia de {power}. Esta forma es nuestra, no publicada. Se supone el aceite tan caliente como el aire.";
    MISS: "The fit is off by up to {miss} % on a move you timed.",
        "El ajuste falla hasta {miss} % en un cambio que usted midió.";
    CROP_GROWS: "Crop: {name}. It grows to {height} (FAO-56 Table 12 or the scenario), in a straight line through its development stage. The pipe is {pipe} in diameter. Sag, furrows and drains below the pipe are left out.",
        "Cultivo: {name}. Crece hasta {height} (FAO-56, tabla 12, o el escenario), en línea recta durante su desarrollo. El tubo tiene {pipe} de diámetro. No se cuentan el pandeo, los surcos ni los drenes bajo el tubo.";
    CLEARS: "{wheel}: bottom of the pipe at {under}, clears the crop by at least {room}.",
        "{wheel}: lo de abajo del tubo a {under}, pasa sobre el cultivo con al menos {room}.";
    DRAGS: "{wheel}: bottom of the pipe at {under}, drags through the crop from {day} on ({n} days), by up to {room}.",
        "{wheel}: lo de abajo del tubo a {under}, arrastra en el cultivo desde el {day} ({n} días), hasta {room}.";
    THIS_MACHINE: "This machine", "Esta máquina";
    WHEEL: "{n}-foot wheel", "Rueda de {n} pies";
    PICTURE_TITLE: "Crop height against the pipe: {name}", "Altura del cultivo contra el tubo: {name}";
    PICTURE_AXIS: "Height above ground ({unit})", "Altura sobre el suelo ({unit})";
    PICTURE_CLEARS: "{wheel}: clears", "{wheel}: pasa";
    PICTURE_DRAGS: "{wheel}: drags", "{wheel}: arrastra";
    PICTURE_START: "Planted or started on {day}", "Sembrado o iniciado el {day}";
    PICTURE_CAPTION: "Thick curve: the crop. Level lines: the bottom of the pipe on several wheels, this machine’s as a solid line. Where the curve rises above a line, that wheel drags its pipe through the crop.",
        "Curva gruesa: el cultivo. Líneas a nivel: lo de abajo del tubo con varias ruedas, la de esta máquina con línea llena. Donde la curva pasa de una línea, esa rueda arrastra el tubo por el cultivo.";
}
