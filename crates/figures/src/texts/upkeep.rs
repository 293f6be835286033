//! The maintenance list. Common practice, no source; the maker's manual comes before all of it.

use super::text::texts;

texts! {
    BEFORE_SEASON: "Before the season", "Antes de la temporada";
    EVERY_MOVE: "At every move", "En cada cambio";
    EVERY_WEEK: "Every week", "Cada semana";
    END_OF_SEASON: "End of season", "Fin de la temporada";
    IN_WINTER: "In winter", "En invierno";
    MANUAL_FIRST: "Common practice, as a reminder. The maker’s manual comes first: follow it wherever it differs.",
        "Práctica común, como recordatorio. El manual del fabricante va primero: sígalo donde diga otra cosa.";
    NOZZLES: "Nozzles", "Boquillas";
    NOZZLES_WORDS: "Same size in every sprinkler. Check each with the shank of a drill bit of that size and replace worn ones.",
        "La misma medida en cada aspersor. Revise cada una con la caña de una broca de esa medida y cambie las gastadas.";
    GASKETS: "Drains and gaskets", "Drenes y empaques";
    GASKETS_WORDS: "Open and clean every drain and check that it shuts under pressure. Replace gaskets that leak or stick.",
        "Abra y limpie cada dren y vea que cierre con presión. Cambie los empaques que gotean o se pegan.";
    LEVELERS: "Levelers", "Niveladores";
    LEVELERS_WORDS: "Swing every leveler by hand. It must move freely and bring the sprinkler upright.",
        "Mueva cada nivelador con la mano. Debe moverse libre y dejar el aspersor derecho.";
    DRIVE_OIL: "Drive oil and filter", "Aceite y filtro del motor hidráulico";
    DRIVE_OIL_WORDS: "Check the level cold. Milky oil has water in it; grit means dirt. Change oil and filter, using the grade in the manual.",
        "Revise el nivel en frío. Aceite lechoso tiene agua; arenilla es suciedad. Cambie aceite y filtro, del grado que dice el manual.";
    CHAIN: "Chain", "Cadena";
    CHAIN_WORDS: "Check tension and wear of chain and sprockets, and oil them.",
        "Revise tensión y desgaste de cadena y piñones, y acéitelos.";
    JOINTS: "Hoses and joints", "Mangueras y brazos";
    JOINTS_WORDS: "Look for cracks, kinks and worn couplers. Try the longest reach of the rotation without pressure.",
        "Busque grietas, dobleces y acoples gastados. Pruebe sin presión el alcance más largo de la rotación.";
    WHEELS: "Wheels and alignment", "Ruedas y alineación";
    WHEELS_WORDS: "Tighten hubs and pipe couplings. Straighten the line before the first move.",
        "Apriete cubos y uniones del tubo. Enderece la línea antes del primer cambio.";
    ANCHORS: "Anchors", "Anclas";
    ANCHORS_WORDS: "Count wind braces and stakes and check that they hold.",
        "Cuente los tirantes y las estacas y vea que aguanten.";
    TIMED_MOVES: "Timed moves", "Cambios medidos";
    TIMED_MOVES_WORDS: "Time one move in a cool hour and one in a warm hour and note the temperatures. The move sheet then shows when the gap between sets is too short.",
        "Mida el tiempo de un cambio en una hora fresca y de otro en una hora caliente y anote las temperaturas. La hoja muestra entonces cuándo no alcanza el tiempo entre dos riegos.";
    LATCHES: "Latches and risers", "Seguros y elevadores";
    LATCHES_WORDS: "Straighten latches and risers. Replace bent pipe.",
        "Enderece seguros y elevadores. Cambie los tubos doblados.";
    SHUT_OFF: "Shut off and drain", "Cerrar y vaciar";
    SHUT_OFF_WORDS: "Shut the outlet, bleed off the pressure and wait until the pipe has drained. Moving pipe with water in it bends and breaks it.",
        "Cierre la toma, saque la presión y espere a que el tubo se vacíe. Mover el tubo con agua lo dobla y lo rompe.";
    LOOK_UP: "Look up and around", "Mirar arriba y alrededor";
    LOOK_UP_WORDS: "Power lines, people, livestock, ditches, stones. Then move.",
        "Cables de electricidad, gente, ganado, zanjas, piedras. Luego mueva.";
    COUNT_TURNS: "Count the turns", "Contar las vueltas";
    COUNT_TURNS_WORDS: "Whole turns, by a mark on the wheel. Sprinklers end straight up, the line straight.",
        "Vueltas enteras, con una marca en la rueda. Los aspersores terminan derechos y la línea recta.";
    CARRY_LEVEL: "Carry level", "Llevar a nivel";
    CARRY_LEVEL_WORDS: "Never stand a pipe on end. Carry it level and empty.",
        "Nunca pare un tubo de punta. Llévelo a nivel y vacío.";
    CONNECTING: "Connect", "Conectar";
    CONNECTING_WORDS: "No strain or kink in the hose or swing joint. Open the outlet slowly.",
        "Sin tensión ni dobleces en la manguera o el brazo articulado. Abra la toma despacio.";
    WALK: "Walk the line", "Recorrer la línea";
    WALK_WORDS: "Every sprinkler turns, none is plugged or leaking, all drains are shut.",
        "Cada aspersor gira, ninguno está tapado ni gotea, todos los drenes están cerrados.";
    ANCHOR: "Anchor", "Anclar";
    ANCHOR_WORDS: "Brace or stake the line against wind, even while it waters.",
        "Afiance o estaque la línea contra el viento, también mientras riega.";
    NOTE: "Note", "Anotar";
    NOTE_WORDS: "Tick off the set. Write down wind, late starts and anything that went wrong.",
        "Marque el riego. Anote viento, inicios tarde y todo lo que salió mal.";
    OIL: "Oil", "Aceite";
    OIL_WORDS: "Check level, leaks, milky color and grit. Hot days and cold nights draw water into the oil.",
        "Revise nivel, fugas, color lechoso y arenilla. Los días calientes y las noches frías meten agua al aceite.";
    OIL_FILTER: "Oil filter", "Filtro de aceite";
    OIL_FILTER_WORDS: "Look at its gauge or case. Change it when it is dirty, not when it is due.",
        "Mire su indicador o su vaso. Cámbielo cuando esté sucio, no cuando toque.";
    CHAIN_WEEKLY_WORDS: "Check tension and oil.", "Revise tensión y aceite.";
    SCREENS: "Screens", "Mallas";
    SCREENS_WORDS: "Flush the screens at the pump and the outlets.",
        "Lave las mallas de la bomba y de las tomas.";
    GAUGE: "Pressure", "Presión";
    GAUGE_WORDS: "Measure it at the first and last sprinkler with a pitot gauge. Write it on the sheet.",
        "Mídala en el primer y el último aspersor con manómetro de Pitot. Anótela en la hoja.";
    ALIGNMENT: "Alignment", "Alineación";
    ALIGNMENT_WORDS: "Sight along the line. Straighten it before the bend grows.",
        "Mire a lo largo de la línea. Enderécela antes de que crezca la curva.";
    HOSES: "Hoses", "Mangueras";
    HOSES_WORDS: "Check where they rub and where they bend most.",
        "Revise dónde rozan y dónde más se doblan.";
    FLUSH: "Flush and drain", "Lavar y vaciar";
    FLUSH_WORDS: "Flush the pipe out the far end, drain it completely, and leave drains and ends open.",
        "Lave el tubo por la punta, vacíelo del todo y deje abiertos drenes y puntas.";
    OIL_AND_FILTER: "Oil and filter", "Aceite y filtro";
    OIL_AND_FILTER_WORDS: "Change both while warm, so that no water sits in the drive over winter.",
        "Cambie los dos en caliente, para que no quede agua en el motor durante el invierno.";
    ENGINE: "Engine", "Motor";
    ENGINE_WORDS: "Fuel, battery and air filter, as the manual says for storage.",
        "Combustible, batería y filtro de aire, como dice el manual para guardar.";
    REPAIRS: "Repair list", "Lista de reparaciones";
    REPAIRS_WORDS: "Write down what is worn while you still remember, and order parts.",
        "Anote lo gastado mientras se acuerda y pida las piezas.";
    PARK: "Park", "Estacionar";
    PARK_WORDS: "At least 100 ft (30 m) from power lines, out of the way of floods and livestock.",
        "Al menos a 100 ft (30 m) de los cables de electricidad, lejos de crecidas y ganado.";
    STAKES_WORDS: "Stake the line at both ends and on each side of the drive. Check again after every storm.",
        "Estaque la línea en las dos puntas y a cada lado del motor. Revise otra vez después de cada tormenta.";
    STORED_WORDS: "Store indoors, empty, out of the sun, not folded.",
        "Guárdelas bajo techo, vacías, sin sol y sin doblar.";
    OPENINGS: "Openings", "Aberturas";
    OPENINGS_WORDS: "Close outlets and pipe ends against mice and wasps, but let the drains drain.",
        "Cierre tomas y puntas del tubo contra ratones y avispas, pero deje que los drenes escurran.";
}
