"""What is written on a drawing, and that nothing of it is written over."""

from shapely.geometry import box

from planner.drawings.scene import Dimension, Text, bounds, flat, parts


def texts(scene):
    """Every line of text of a scene, those of its dimensions too."""
    found = []
    for shape in flat(scene.shapes):
        if isinstance(shape, Dimension):
            shape = parts(shape)[1]
        if isinstance(shape, Text) and shape.text:
            found.append(shape)
    return found


def assert_no_text_overlaps(scene):
    boxes = []
    for text in texts(scene):
        boxes.append((text.text, box(*bounds((text,)))))
    for i, (one, a) in enumerate(boxes):
        for other, b in boxes[i + 1 :]:
            assert a.intersection(b).area < 1e-6, (one, other)
