"""The codes under which the words for fibres, weights, items and the like stand in the texts."""


def term_code(family: str, key: str | int) -> str:
    """Returns the text's code: term_code('item', 'felted bag') is 'terms.item.felted_bag'.

    Families: fibre, weight, stitch, item, attribute, construction, wearer, washing, drying,
    feature, count.
    """
    return f"terms.{family}.{str(key).replace(' ', '_').replace('-', '_')}"
