# The page for the owner. Sentences stay short; what a reader cannot be expected to know is a term of the glossary.

owner-kind = Para el dueño
owner-rules-used = Reglas usadas
owner-looked-at-on = Fecha de la visita
owner-looked-at-by = Visita hecha por

owner-found = Qué se encontró
owner-why = Por qué importa
owner-next = Qué hacer ahora
owner-cost = Cuánto puede costar
owner-not-seen = Qué no se vio
owner-questions = Preguntas para un contratista

answer-met = Lo que se revisó cumple las reglas
    .meaning = Cada cosa que se revisó es lo que piden estas reglas, o mejor. Eso no dice nada de lo que las reglas dejan fuera. Nadie puede prometer cómo le irá a una casa en un terremoto.
answer-not-met = Partes de esta casa no cumplen las reglas
    .meaning = Al menos una cosa que piden las reglas falta o es muy poca. La lista de abajo dice qué y dónde.
answer-not-determined = Se vio muy poco para dar una respuesta
    .meaning = Aquí decide lo que nadie ha visto. Hasta que alguien lo vea, tome el peor caso como posible.
answer-outside = Estas reglas no cubren una casa así
    .meaning = Las reglas no se hicieron para una casa como esta. Un ingeniero o arquitecto con licencia tiene que hacer el plano. Lo que se encontró está en la lista de abajo.
answer-not-applicable = Las reglas no piden nada aquí
    .meaning = Estas reglas no piden nada en lo que se anotó. Eso no dice nada del resto de la casa.
answer-range = En el mejor caso, la respuesta es «{ $best }». En el peor, es «{ $worst }».

ruling-met = cumple las reglas
ruling-not-met = no cumple
ruling-not-determined = no se sabe
ruling-outside = necesita ingeniero
ruling-not-applicable = no se pide nada

owner-comparison-only = No actúe según esta página. Las reglas usadas aquí solo sirven para comparar y no se hicieron para casas viejas.
owner-confirm = Algunos límites usados aquí no se vieron en las reglas mismas. Pida a la oficina de permisos que los confirme antes de actuar.
owner-sides-short = { $some ->
    [one] { $some } de { $all } lados no cumple.
   *[other] { $some } de { $all } lados no cumplen.
}
owner-sides-open = { $some ->
    [one] { $some } de { $all } lados no se pudo juzgar.
   *[other] { $some } de { $all } lados no se pudieron juzgar.
}
owner-sides-outside = { $some ->
    [one] { $some } de { $all } lados necesita un ingeniero.
   *[other] { $some } de { $all } lados necesitan un ingeniero.
}

picture-title = Dibujo de su casa vista desde arriba
picture-caption = Su casa vista desde arriba. Cada número es un lado.
picture-north = El norte está arriba.
picture-without-place = No se anotó dónde está cada lado. Por eso algunos están dibujados uno debajo de otro.

owner-weak-places = Qué no cumple, y dónde
owner-nothing-short = En lo que se pudo juzgar, nada queda corto.
owner-some-unknown = Algunas cosas no se pudieron juzgar. Están en la lista «{ owner-not-seen }».
owner-also-noted = También se anotaron estas cosas. No cuentan en la respuesta.
noted-fault = La casa está en una zona marcada donde el suelo se puede romper en un terremoto.
noted-liquefaction = La casa está en una zona marcada donde el suelo mojado se puede ablandar en un terremoto.
noted-landslide = La casa está en una zona marcada donde el suelo se puede deslizar.
noted-chimney = Una chimenea de ladrillo o piedra no muestra uniones con la casa. Se puede caer.
noted-distress = Hay señales de daño, como grietas o pisos inclinados. Pida que alguien busque la causa.

where-house = La casa entera
where-every-side = Todos los lados
amount-found-and-asked = Hay: { $found }. Se pide: { $asked }.
amount-at-least = al menos { $amount }
amount-at-most = como máximo { $amount }
amount-less-than = menos de { $amount }
amount-between = de { $least } a { $most }
amount-share = { $share } de { $length }
amount-out-of = { $some } de { $all }
amount-stories = { $count ->
    [one] { $count } planta
   *[other] { $count } plantas
}

owner-why-nothing = Nada de lo que se revisó queda corto. No hay un punto débil que explicar.
owner-why-unknown = Lo que no se vio puede ser un punto débil. Un terremoto empuja la casa de lado, y cada unión del piso al cimiento tiene que aguantar.

next-look = Pida que alguien vea esto primero. Es lo que más diría.
next-look-more = Hay más en la página del ingeniero.
next-do = Esta es la obra que arreglaría lo que no cumple.
next-engineer = Llame a un ingeniero con licencia. Una parte de esta casa es más de lo que cubren estas reglas.
next-papers = Guarde esta página con los papeles de la casa.
next-steps = Siga estos pasos.
next-department = Pregunte en la oficina de permisos qué reglas valen para su casa y si necesita un permiso.
next-bids = Pida al menos dos presupuestos. Dé a cada uno la misma página con el plano de la obra.
next-crawl = No entre solo bajo la casa. Después de un terremoto, no entre hasta que la revisen.

cost-range = { $low } a { $high }
cost-likely = Una cifra probable es { $likely }.
cost-is-rough = Es una cifra aproximada y no una oferta. Los precios reales pueden quedar fuera de ella.
cost-placeholders = Algunos de estos precios son provisionales. Ocupan el lugar hasta que usted tenga presupuestos.
cost-years = Los precios son de estos años: { $years }.
cost-left-out = No incluye permisos, ni un ingeniero, ni daños que nadie ha visto aún.
cost-partly = Una parte de la obra no se pudo planear con estas reglas. No está en este costo, y puede ser la parte mayor.
cost-none-possible = No se puede dar un costo. La obra no se pudo planear con estas reglas, o se vio muy poco para planearla.
cost-no-work = Estas reglas no piden obra nueva en lo que se vio. No hay costo que mostrar.
cost-taken-as-given = Para planear la obra, se dieron por ciertas cosas que nadie vio. Pida que las revisen antes de comprar.

access-entered = Alguien entró en el espacio bajo el piso.
access-partly = Alguien entró en una parte del espacio bajo el piso. No se dice nada del resto.
access-head-and-shoulders = Alguien miró el espacio bajo el piso desde la entrada, pero no entró.
access-none = Nadie entró en el espacio bajo el piso.
access-unknown = No se anotó si alguien entró en el espacio bajo el piso.
not-seen-nothing = Cada revisión tuvo lo que necesitaba.
not-seen-checks = Estas cosas no se pudieron juzgar, porque nadie las vio.
not-seen-figures = Algunas revisiones quedan abiertas porque el límite mismo no se vio en las reglas.
not-seen-stretches = Partes de estos lados no se pudieron ver.
not-seen-rest = Esta página no dice nada de las plantas altas, el techo, el suelo ni de nada que estas reglas dejen fuera.

questions-if-work = Si hace una obra, pregunte esto.
question-license = ¿Tiene licencia y seguro para esta obra?
question-houses = ¿Ha hecho esta obra en otras casas como la mía? ¿Puedo hablar con los dueños?
question-permit = ¿Saca usted el permiso? ¿Quién recibe al inspector?
question-plan = ¿Qué reglas va a seguir? ¿Puedo ver un plano con cada pieza nueva?
question-look-first = ¿Qué va a mirar antes de dar un precio?
question-bolts = ¿Qué tipo de pernos va a usar? ¿Qué tan hondo entran, y quién los revisa?
question-panels = ¿Dónde va cada panel? ¿Cómo lo va a clavar?
question-floor = ¿Cómo va a unir el piso con el muro de abajo?
question-foundation = ¿Va a sujetar el cimiento viejo los pernos nuevos? ¿Cómo lo va a saber?
question-vents = ¿Quedarán bastantes respiraderos al final?
question-engineer = ¿Hará un ingeniero con licencia el plano de lo que estas reglas no cubren?
question-hidden = ¿Qué pasa con el precio si encuentra madera podrida o concreto malo?
question-left-out = ¿Qué no está en su precio?
question-photos = ¿Me dará fotos de la obra antes de que se tape?

owner-about = Sobre esta página
deferral = Esta página compara lo que se vio bajo una casa con unas reglas impresas. No es un plano, ni un permiso, ni la palabra de un ingeniero. La oficina de permisos decide qué reglas valen. Un ingeniero con licencia decide donde las reglas terminan.
written-by = Escrito por retrofit { $version }. Huella del archivo de la casa: { $fingerprint }.
