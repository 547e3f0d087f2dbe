# The sheet for somebody who sorts many houses: trade terms, one line for each thing.

assessor-kind = Para el evaluador
assessor-summary = En resumen
assessor-sides = Lado por lado
assessor-open = Qué no se sabe
assessor-next = Qué mirar ahora
assessor-not-seen = Qué no se vio

tier = Nivel
tier-outside = Diseño de un ingeniero: las disposiciones prescriptivas no alcanzan
tier-not-met = Refuerzo: algo falta o es muy poco
tier-not-determined = Segunda visita: decide lo que nadie vio
tier-met = Nada queda corto en lo que se revisó
tier-not-applicable = Ninguna regla se aplica a lo anotado

assessor-verdict = Veredicto
assessor-to-confirm = { $ruling }; se apoya en cifras que no se vieron en su documento
assessor-range = Mejor y peor caso
assessor-best-to-worst = { $best } / { $worst }
assessor-governing = Falta principal
assessor-none = ninguna
assessor-evidence = Cuánto se vio
evidence-most = La mayor parte
evidence-some = Una parte
evidence-little = Poco
assessor-evidence-counts = { $grade }: de { $all } resultados, { $witnessed } se apoyan en lo medido o visto, { $told } en lo dicho o deducido, { $unsaid } en una lista entera; { $open } quedan abiertos. Los grados son una convención de esta hoja.
assessor-lines = Lados
assessor-lines-counts = { $outside } fuera, { $short } cortos, { $open } abiertos, { $met } cumplen
assessor-cost = Costo aproximado
assessor-cost-partly = { $cost }, sin las partes que no tienen plano
assessor-cost-placeholders = { $cost }; algunos precios son provisionales
assessor-cost-none = ninguno: sin plano
assessor-cost-no-work = ninguno: no se pide obra
assessor-built = Año de construcción
assessor-stories = Plantas
assessor-access = Espacio bajo el piso

column-side = Lado
column-verdict = Veredicto
column-governing = Falta principal
column-found = Hay y se pide
column-others = Resultados cortos
column-open = Abiertos

assessor-nothing-open = Ningún resultado quedó abierto por falta de una observación.
assessor-figures-open = Algunos resultados quedan abiertos porque la cifra misma no se vio en su documento.
assessor-look-decides = { $count ->
    [one] Tiene parte en { $count } resultado abierto.
   *[other] Tiene parte en { $count } resultados abiertos.
}
assessor-nothing-next = Ninguna observación sola reduciría esto.
