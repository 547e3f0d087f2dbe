# What a page says of its language, and how amounts are said.

language-name = English
skip-to-answer = Skip to the answer
lengths-in-meters-too = no
length-with-meters = { $length } ({ $meters } m)

sides-counted = { $count ->
    [one] { $count } side
   *[other] { $count } sides
}

# Names of sides that many records use; any other name stands as it was written.
side-name-north = north
side-name-east = east
side-name-south = south
side-name-west = west
