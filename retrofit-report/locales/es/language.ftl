# What a page says of its language, and how amounts are said.

language-name = Español
skip-to-answer = Ir a la respuesta
lengths-in-meters-too = yes
length-with-meters = { $length } ({ $meters } m)

sides-counted = { $count ->
    [one] { $count } lado
   *[other] { $count } lados
}

# Names of sides that many records use; any other name stands as it was written.
side-name-north = norte
side-name-east = este
side-name-south = sur
side-name-west = oeste
