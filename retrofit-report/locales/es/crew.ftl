# Las hojas para la cuadrilla.

crew-kind = Para la cuadrilla
crew-headline = Coloque { $anchors ->
    [0] ningún anclaje
    [one] un anclaje
   *[other] { $anchors } anclajes
}, { $panels ->
    [0] ningún panel
    [one] un panel
   *[other] { $panels } paneles
} y { $clips ->
    [0] ningún conector
    [one] un conector
   *[other] { $clips } conectores
}.
crew-nothing-anywhere = No hay trabajo trazado para esta casa según estas reglas.
crew-before = Antes de entrar
crew-before-stay-out = Quédese afuera si hay agua estancada o aguas negras, olor a gas, cables pelados o dañados, aislamiento que se desmorona y puede tener asbesto, un piso vencido o señales de animales.
crew-before-partner = Que alguien afuera sepa dónde está usted. Sepa dónde se cierran el gas, el agua y la luz antes de taladrar o cortar.
crew-before-permit = No empiece antes de que la oficina de permisos acepte el plano. Lo que esa oficina aprobó va antes que estas hojas.
crew-verify = Revise en la obra antes de cortar o pedir nada
crew-verify-nothing = No se dio nada por hecho. De todos modos mida otra vez donde vaya a cortar.
crew-verify-these = Nadie vio esto. Si algo no es como lo toma el plano, pare y llame a quien lo hizo:
crew-carry = Qué llevar
crew-how-many = Cuántos
crew-of-what = De qué
crew-at-least = al menos { $count }, cuente en la obra
crew-pounds = { $count } lb
crew-amount-unknown = no se sabe, vea la hoja del permiso
crew-tools = Herramientas: taladro para concreto con tope, cepillo y soplador, llave, sierra, cinta, nivel, martillo o clavadora ajustada para dejar las cabezas al ras, lámpara, respirador, guantes, rodilleras y lentes.
crew-item-adhesive-anchor = anclaje con adhesivo
crew-item-expansion-anchor = anclaje de expansión
crew-item-screw-anchor = anclaje de rosca
crew-item-side-plate = placa lateral
crew-item-joint-blocking = bloques detrás de juntas horizontales
crew-item-sill-block = bloque sobre la solera
crew-item-framing-clip = conector de metal
crew-item-joist-block = bloque entre viguetas, de todo el peralte
crew-item-end-joist = vigueta de borde
crew-item-top-plate = solera superior
crew-item-plate-strap = cinta de metal sobre una unión de la solera superior
crew-item-solid-blocking = bloque macizo
crew-diameter = { $length } de diámetro
crew-rod = { $length } de largo o más
crew-rod-by-maker = largo según el fabricante
crew-rod-after-measuring = largo cuando se mida la solera
crew-washer = arandela { $washer }
crew-adhesive = cartucho de adhesivo, { $milliliters } ml
crew-sheet = hoja { $size }, { $make }
crew-make = { $make }, de { $length } o más grueso
crew-nails = clavos { $nail }
crew-nails-by-rules = clavos según las reglas, vea la hoja del permiso
crew-sill = solera nueva de madera tratada, de { $length } de grueso o más
crew-length = Línea de muro de { $length }. Mida todo desde su punta izquierda, como la ve desde abajo, mirando al muro.
crew-length-unknown = Nadie midió el largo de esta línea de muro. Mídalo primero.
crew-anchors = anclajes
crew-panels = paneles
crew-floor = unión con el piso
crew-no-layout = Sin trazo para: { $part }. No haga esta parte. La hoja del permiso dice por qué y quién decide.
crew-nothing = Nada que agregar en esta línea de muro según estas reglas, por lo que se anotó.
crew-framing = Solera y estructura
crew-nail-top-plates = clave las dos soleras superiores una con otra
crew-add-top-plate = agregue una solera superior
crew-tie-splices = amarre cada unión de la solera superior con una cinta de metal; cuente las uniones en la obra
crew-solid-blocking = cambie los montantes cortos por bloques macizos
crew-new-anchors = Anclajes nuevos
crew-old-anchors = Anclajes viejos por arreglar
crew-tighten = apriete la tuerca
crew-embedment = { $length } dentro del concreto o más
crew-embedment-by-maker = Profundidad en el concreto según el fabricante
crew-edge = a { $length } o más de la cara de los cimientos
crew-tight-drilling = No cabe un taladro recto: lleve uno de ángulo
crew-vents = Respiraderos por mover
crew-vents-first = Primero corte la abertura nueva y luego cierre la vieja.
crew-vent-moved = muévalo a { $from } – { $to }
crew-vent-closed = ciérrelo; no queda lugar para él en esta línea de muro
crew-new-panels = Paneles nuevos
crew-old-panels = Paneles viejos por perforar
crew-holes-in-old-panel = { $count ->
    [one] Un agujero
   *[other] { $count } agujeros
} de { $length }, arriba y abajo en cada espacio
crew-sill-blocks = { $count ->
    [one] un bloque sobre la solera
   *[other] { $count } bloques sobre la solera
}
crew-panel-size = { $length } de largo, { $height } de alto; pie: { $foot }
crew-edge-nailing = Clavos cada { $length } en todos los bordes
crew-field-nailing = Clavos cada { $length } en los montantes intermedios
crew-vent-holes = Un agujero de { $length } arriba y abajo en cada espacio
crew-nails-per-block = { $count ->
    [one] Un clavo
   *[other] { $count } clavos
} en cada bloque sobre la solera
crew-nails-flush = Cabezas al ras, nunca a través de la cara; juntas horizontales sobre bloques
crew-end-joist = Vigueta de borde
crew-end-joist-note = Una vigueta de borde continua sobre toda la línea de muro
crew-joist-blocks = Bloques entre viguetas
crew-joist-blocks-note = De todo el peralte de las viguetas; las estaciones son el centro de cada bloque
crew-clips = Conectores de metal
crew-clips-note = Con los clavos que pide el fabricante, todos los agujeros llenos
crew-clip-spacing = cada { $length }
crew-cutting = Lista de cortes
crew-cutting-note = Cada hoja con sus piezas. El grueso de la sierra está contado. Marque cada pieza con su línea de muro antes de meterla.
crew-cutting-nothing = No se corta nada de hojas.
crew-cut-along = A lo largo
crew-cut-across = A lo ancho
crew-cut-wall-line = Línea de muro
crew-cut-stations = Estaciones
crew-sheet-number = Hoja { $number }: { $size }, { $make }
crew-from-to = { $from } a { $to }
crew-order = Orden del trabajo, y dónde parar
crew-order-note = El orden es práctica común. Primero van las inspecciones que pida la oficina de permisos.
crew-hold = Pare
crew-step-verify = Mida y revise lo que se dio por hecho.
crew-hold-verify = No pida ni corte nada antes de que lo vea quien dirige la obra.
crew-step-sill = Cambie piezas de solera. No deje ninguna parte del muro sin apoyo.
crew-step-framing = Arregle soleras superiores y montantes cortos.
crew-step-vents = Corte los respiraderos nuevos y luego cierre los viejos.
crew-hold-vents = La abertura nueva está antes de cerrar la vieja.
crew-step-anchors = Perfore, limpie y coloque los anclajes.
crew-hold-adhesive = Muchas oficinas quieren ver cómo se ponen los anclajes con adhesivo. Pregunte antes.
crew-step-blocks = Ponga bloques entre viguetas y viguetas de borde.
crew-step-clips = Clave los conectores de metal.
crew-step-panels = Clave los bloques sobre la solera donde una hoja los pida. Haga los agujeros, luego ajuste y clave los paneles.
crew-step-cover = Deje todo a la vista.
crew-hold-cover = No cubra nada antes de que el inspector vea anclajes, bloques, paneles, clavos y conectores.
crew-step-final = Limpie y saque los restos de madera.
crew-hold-final = Inspección final de la oficina de permisos.
print-owner = Para el dueño
print-assessor = Para el inspector
print-engineer = Para el ingeniero, en inglés
print-permit = Para la oficina de permisos, en inglés
print-crew = Para la cuadrilla
print-contents = Contenido
print-about = Cada parte empieza en una hoja nueva y se puede entregar sola. Todas salen de un mismo resultado.
crew-about = Qué son estas hojas
crew-about-is = Trazan el trabajo según unas reglas publicadas y lo que se anotó de esta casa. No son un permiso ni el diseño de un ingeniero. Nadie vio todo: donde la casa sea distinta, la casa tiene razón y el trabajo se para.
