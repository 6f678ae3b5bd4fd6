"""Codes of lengths, numbers and expressions."""

from __future__ import annotations

from drawleaf.model.code import Code, Example, slip


def _instead(of_height: str) -> Example:
    return slip("height: 12,", f"height: {of_height},")


CODES = (
    Code(
        "ambiguous",
        "A length can be read in two ways.",
        "A wrong guess would cost a board, so nothing is guessed.",
        "Write the one that you mean, as the message shows both.",
        _instead("12-3/2"),
    ),
    Code(
        "bracket",
        "A round bracket has no partner.",
        "Each bracket that opens must close.",
        "Add the missing bracket, or delete the one that is too many.",
        _instead("(depth + 2"),
    ),
    Code(
        "broken-feet",
        "A fraction of a foot stands before inches.",
        "“1-1/2' 6\"” says the inches twice.",
        "Write it all in inches: 24.",
        slip("height: 12,", 'height: "1-1/2\' 6 in",'),
    ),
    Code(
        "chained-comparison",
        "More than two values are compared at once.",
        "A comparison compares two values.",
        "Compare two at a time.",
        slip("height: 12,", "height: 'if(1 < depth < 12, 12, 13)',"),
    ),
    Code(
        "division-by-zero",
        "Something is divided by zero.",
        "There is no such figure.",
        "Check what is below the stroke, and the dimensions that it is made of.",
        _instead("depth / (width - 20 in)"),
    ),
    Code(
        "double-sign",
        "Two minus signs follow each other.",
        "One of them is a slip, or both.",
        "Delete one, or both.",
        _instead("--depth"),
    ),
    Code(
        "exponent",
        "A number is written with an exponent, such as 1e3.",
        "In a workshop nobody reads it.",
        "Write the number out in full.",
        _instead("1e1"),
    ),
    Code(
        "expression-too-long",
        "An expression is longer than anyone can read.",
        "A slip in it could not be found.",
        "Name parts of it under “dimensions” and use the names.",
        _instead("depth" + " + 0" * 600),
    ),
    Code(
        "missing-operator",
        "Two values are side by side with nothing between them.",
        "Whether to add or to multiply is not for the computer to guess.",
        "Write +, -, * or / between them.",
        _instead("depth width"),
    ),
    Code(
        "mixed-kinds",
        "Two values of different kinds are added, compared or divided.",
        "A length and a plain number have no sum: 5 what?",
        "Give both the same kind: multiply the number by a length first, as the message shows.",
        _instead("depth + slats"),
    ),
    Code(
        "negative-count",
        "A count is less than nothing.",
        "Two figures are probably subtracted the wrong way round.",
        "Check the order of the subtraction.",
        slip("{slats: 4}", "{slats: 4 - 6}"),
    ),
    Code(
        "no-expression",
        "Nothing is written where a length belongs.",
        "The quotes are empty.",
        "Write a length or an expression, or delete the key.",
        _instead('""'),
    ),
    Code(
        "no-inch-mark",
        "A figure after feet ends without a unit.",
        "Inches follow feet, and they are marked.",
        "Write 3' 6\" or 3 ft 6 in.",
        slip("height: 12,", 'height: "1\' 6",'),
    ),
    Code(
        "no-root",
        "A square root is taken of a negative figure.",
        "There is none among lengths.",
        "Check the order of the subtraction.",
        _instead("sqrt(depth * depth - width * width)"),
    ),
    Code(
        "no-tangent",
        "The tangent of 90 degrees is asked for.",
        "It has no end.",
        "Check the angle.",
        slip("height: 12,", "height: 'depth * tan(90 deg)',"),
    ),
    Code(
        "odd-character",
        "A character is not allowed in an expression.",
        "Expressions hold names, figures, + - * / and round brackets.",
        "Delete it, or use round brackets.",
        slip("height: 12,", "height: 'depth + [2]',"),
    ),
    Code(
        "out-of-range",
        "An inverse function is given a number outside -1 to 1.",
        "No angle has such a sine or cosine.",
        "Check which length is over which.",
        slip("height: 12,", "height: 'depth * sin(asin(width / depth))',"),
    ),
    Code(
        "power",
        "A power is written.",
        "Powers are not used here: a length times itself is an area, and seldom meant.",
        "Write a * a for a square.",
        slip("height: 12,", "height: 'depth ^ 2',"),
    ),
    Code(
        "stray-comma",
        "A comma is not allowed there.",
        "Commas divide what is in the brackets of a function. Decimals have a point.",
        "Delete it, or write a point.",
        slip("height: 12,", "height: 'depth, 5',"),
    ),
    Code(
        "stray-mark",
        "An inch or foot mark stands without its number.",
        "A mark belongs behind a figure.",
        "Write the number first.",
        slip("height: 12,", "height: '\"',"),
    ),
    Code(
        "stray-point",
        "A point stands alone, or a number has two.",
        "A decimal has one point with digits round it.",
        "Delete it, or write digits after it.",
        slip("height: 12,", "height: 12.5.1,"),
    ),
    Code(
        "too-fine",
        "A result has too many digits to be kept exactly.",
        "Lengths are kept as exact fractions; some sums make their figures longer and longer.",
        "Round it: round(…, 1/64).",
        slip(
            "height: 12,",
            "a: 1 in * (123456789/987654321) * (1234567/7654321), b: a * (12345678/87654321), "
            + "".join(
                f"c{at}: {'b' if at == 0 else f'c{at - 1}'} / 1 in * {'b' if at == 0 else f'c{at - 1}'}, "
                for at in range(7)
            )
            + "height: c6,",
        ),
    ),
    Code(
        "too-large",
        "A figure is larger than anything made of wood.",
        "There are digits too many.",
        "Check the figures.",
        _instead("99999999999"),
    ),
    Code(
        "unknown-function",
        "There is no function of that name.",
        "It is misspelt, or it is not one of ours.",
        "Take the one that the message names, or look at the list in the source language.",
        slip("height: 12,", "height: 'maxi(depth, 12)',"),
    ),
    Code(
        "unknown-name",
        "A name in an expression is not known.",
        "It is misspelt, or it cannot be seen from this place: a part inside another assembly needs that assembly's name before it.",
        "Take the name that the message suggests, or define it under “dimensions”.",
        slip("left: 0, right: width, front: 0", "left: 0, right: widht, front: 0"),
    ),
    Code(
        "unknown-unit",
        "A unit is not known.",
        "Lengths are in inches, feet, millimetres, centimetres or metres; angles in degrees.",
        "Write in, ft, mm, cm, m or deg.",
        _instead("12 hands"),
    ),
    Code(
        "value-missing",
        "A value is missing before or after a sign.",
        "+, -, * and / stand between two values.",
        "Write the missing value, or delete the sign.",
        slip("height: 12,", "height: depth +,"),
    ),
    Code(
        "wrong-arguments",
        "A function has too many or too few values in its brackets.",
        "Each function takes as many as its form shows.",
        "Write it as the message shows.",
        slip("height: 12,", "height: 'sqrt(depth * depth, 2)',"),
    ),
    Code(
        "wrong-kind",
        "A length is wanted and a number, an area or an angle is given, or the other way round.",
        "A part cannot be five square inches wide.",
        "Multiply a plain number by a length, or divide a length by a length, as the message shows.",
        _instead("depth * width"),
    ),
)
