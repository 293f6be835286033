//! Headings, table heads and sentences of the sheet's page and of its calendar events.

use super::text::texts;

texts! {
    TITLE: "Move sheet: {alternative}", "Hoja de cambios: {alternative}";
    INVENTED: "Invented field, made up to show the method.", "Campo inventado, hecho para mostrar el método.";
    PLANNER_NOTES: "Notes on the plan", "Notas del plan, en inglés, para quien lo hizo";
    PASSES: "The passes", "Las pasadas";
    PASS_HEAD: "Pass", "Pasada";
    STOP_HEAD: "Stop", "Parada";
    WHERE_HEAD: "Where the line stands", "Dónde queda la línea";
    FIRST_ON: "First on", "Primer riego";
    LAST_OFF: "Last off", "Último cierre";
    SETS_HEAD: "Sets", "Riegos";
    SETS_DONE: "{sets}, {done} done", "{sets}, {done} hechos";
    CALLED_ON: "Called on (date, time)", "Llamada el (fecha, hora)";
    IN_ORDER: "Run the passes in this order all season.", "Haga las pasadas en este orden toda la temporada.";
    STANDARD_TIME: "All times are standard time, without daylight saving: while daylight saving time lasts, your clock shows one hour later.",
        "Todas las horas son hora estándar, sin horario de verano: mientras dura el horario de verano, su reloj marca una hora más.";
    ZONE_TIME: "All times are as your clock shows them ({zone}, daylight saving time included).",
        "Todas las horas son las de su reloj ({zone}, con horario de verano).";
    ZONE_ALL_YEAR: "All times are as your clock shows them ({zone}, which has no daylight saving time).",
        "Todas las horas son las de su reloj ({zone}, que no tiene horario de verano).";
    SHORT_STANDARD: "Standard time, without daylight saving.", "Hora estándar, sin horario de verano.";
    SHORT_ZONE: "Clock time of {zone}.", "Hora de reloj de {zone}.";
    CHANGE_BACK: "The clocks go back on {day}. Each set keeps its length, so from then on sets start an hour earlier by the clock. A time that comes twice has its zone beside it.",
        "El reloj se atrasa el {day}. Cada riego dura lo mismo; desde ese día los riegos empiezan una hora antes según el reloj. La hora que se repite lleva su zona al lado.";
    CHANGE_FORWARD: "The clocks go forward on {day}. Each set keeps its length, so from then on sets start an hour later by the clock.",
        "El reloj se adelanta el {day}. Cada riego dura lo mismo; desde ese día los riegos empiezan una hora después según el reloj.";
    VERSION: "Evenfall {version}, scenario {digest}.", "Evenfall {version}, escenario {digest}.";
    CALENDAR: "Season calendar", "Calendario de la temporada";
    CALENDAR_WORDS: "Each day shows the outlets that start that day. The letter is the stop.",
        "Cada día muestra las tomas que empiezan ese día. La letra es la parada.";
    PASS_TITLE: "Pass {n}: stop {letter}", "Pasada {n}: parada {letter}";
    FROM_TO: "{from} to {to}", "{from} a {to}";
    STARTED_ON: "Started on", "Empezada el";
    UPRIGHT: "Sprinklers straight up.", "Aspersores derechos.";
    CONNECT: "Connect {what}.", "Conecte {what}.";
    ALTERNATIVE: "Plan: {name}.", "Plan: {name}.";
    DAY_HEAD: "Day", "Día";
    ON_HEAD: "On", "Abrir";
    OFF_HEAD: "Off", "Cerrar";
    ON_AFTER: "On, h:min after the start", "Abrir, h:min desde el inicio";
    OFF_AFTER: "Off, h:min after the start", "Cerrar, h:min desde el inicio";
    OUTLET_HEAD: "Outlet", "Toma";
    ROLL_HEAD: "Roll from the last stop", "Ruede desde la última parada";
    CARRY_HEAD: "Carry from the last stop", "Lleve desde la última parada";
    DEPTH_NET: "Net depth ({unit})", "Lámina neta ({unit})";
    DEPTH_GROSS: "Gross depth ({unit})", "Lámina bruta ({unit})";
    READ_HEAD: "Read ({unit})", "Leída ({unit})";
    WRITE_HEAD: "Wind, problems", "Viento, problemas";
    NO_WATER: "No water: {why}", "Sin agua: {why}";
    AFTER_LAST: "After the last set: {what}", "Después del último riego: {what}";
    WAY_OVER: "{way} to the first outlet. The season is over.", "{way} hasta la primera toma. Terminó la temporada.";
    WAY_NEXT: "{way} to the first stop of the next pass.", "{way} hasta la primera parada de la pasada que sigue.";
    WAY_STAY: "stay at this stop for the first set of the next pass.",
        "quédese en esta parada para el primer riego de la pasada que sigue.";
    OF_LINE: "{line}: {way}", "{line}: {way}";
    NOTES: "Notes:", "Notas:";
    LEGEND_DONE: "\u{2713} done, from your log; (\u{2713}) not in the log, counted as done.",
        "\u{2713} hecho, según su registro; (\u{2713}) no está en el registro, contado como hecho.";
    CALL: "If something goes wrong, call:", "Si algo sale mal, llame a:";
    PRESSURE: "Pitot gauge at the nozzle: first sprinkler {first}, middle {middle}, last {last} {unit}.",
        "Manómetro con tubo de Pitot en la boquilla: primer aspersor {first}, el de en medio {middle}, último {last} {unit}.";
    PRESSURE_ALIKE: "Pitot gauge at the nozzle: {range} {unit} at the first, the middle and the last sprinkler.",
        "Manómetro con tubo de Pitot en la boquilla: {range} {unit} en el primer aspersor, el de en medio y el último.";
    PRESSURE_SOLVED: "Calculated along the pipe, give or take {share} % for gauge and pump.",
        "Calculada a lo largo del tubo, más o menos {share} % por el manómetro y la bomba.";
    PRESSURE_STATED: "The stated nozzle pressure, give or take {share} %: the pipe is not described.",
        "La presión dada de la boquilla, más o menos {share} %: no se describe el tubo.";
    RANGE: "{low} to {high}", "{low} a {high}";
    CALLED_RULE: "Start a pass when the soil has used {share} % of what the crop can take without stress, and not by the calendar. Write down the date and time, and count the hours from there.",
        "Empiece una pasada cuando el suelo haya gastado el {share} % de lo que el cultivo puede tomar sin sufrir, y no por el calendario. Anote la fecha y la hora, y cuente las horas desde ahí.";
    CALLED_SEASON: "The crop calls for each pass: whoever watches the soil says when. A simulated season had {n} passes; yours may have more or fewer.",
        "El cultivo pide cada pasada: quien vigila el suelo dice cuándo. Una temporada simulada tuvo {n} pasadas; la suya puede tener más o menos.";
    MAINTENANCE: "Maintenance", "Mantenimiento";
    MOVE_TIMES: "Move time in cold and heat", "Tiempo de cambio con frío y calor";
    TEMPERATURE_HEAD: "Air temperature", "Temperatura del aire";
    TIME_HEAD: "Time for a move", "Tiempo de un cambio";
    FITS: "fits the gap between sets", "cabe entre dos riegos";
    TOO_LONG: "longer than the gap between sets", "no cabe entre dos riegos";
    BEYOND: " (outside the temperatures you timed)", " (fuera de las temperaturas que usted midió)";
    CROP: "Crop under the pipe", "El cultivo bajo el tubo";
    CAUTIONS: "Cautions", "Precauciones";
    ABOUT_DEPTHS: "About depths and pressures", "Sobre las láminas y las presiones";
    ABOUT_GROSS: "There is no weather for these dates, so depths are gross: the water of a set as it leaves the sprinklers, spread over the strip that the set serves, before wind drift and evaporation.",
        "No hay datos del tiempo para estas fechas, así que las láminas son brutas: el agua de un riego como sale de los aspersores, repartida en la franja que le toca, antes de que el viento y la evaporación se lleven su parte.";
    ABOUT_NET: "Net depth is the water of a set that lands, spread over the strip that the set serves: the length of the line times the outlet spacing. The range is what wind drift and evaporation leave in eight of ten of this plan’s sets that start at the same hour; your days will differ. Check it with catch cans.",
        "La lámina neta es el agua de un riego que llega al suelo, repartida en la franja que le toca: el largo de la línea por la distancia entre tomas. El rango es lo que el viento y la evaporación dejan en ocho de cada diez riegos de este plan que empiezan a la misma hora; sus días serán otros. Compruébela con botes.";
    ABOUT_PRESSURE: "Sprinklers are counted from the inlet of the line. A reading outside the range means a worn or plugged nozzle, a leak, or another pressure at the pump: write it down and call.",
        "Los aspersores se cuentan desde la entrada de la línea. Una lectura fuera del rango indica una boquilla gastada o tapada, una fuga u otra presión en la bomba: anótela y avise.";
    SKETCH: "The field from above: outlets on the mainline, and where the line stands", "El campo visto desde arriba: las tomas en la tubería principal y dónde queda la línea";
    MAINLINE: "mainline", "tubería principal";
    TRAVEL: "direction of travel", "hacia donde avanza";
    EVENT_TITLE: "Outlet {outlet}: stop {letter}, pass {pass}", "Toma {outlet}: parada {letter}, pasada {pass}";
    EVENT_WORDS: "Line: {place}.\nMove: {move}.\nConnect: {connect}.\nExpected depth: {depth}.\n{clock}",
        "Línea: {place}.\nCambio: {move}.\nConectar: {connect}.\nLámina esperada: {depth}.\n{clock}";
    DEPTH_IS_NET: "{depth} {unit} net", "{depth} {unit} neta";
    DEPTH_IS_GROSS: "{depth} {unit} gross", "{depth} {unit} bruta";
    NEXT_SET: "Next set", "Riego que sigue";
}
