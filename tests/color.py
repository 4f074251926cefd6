"""Color as eyes see it: contrast, difference, and the three color-blind eyes.

Contrast: WCAG 2.1, relative luminance.  Difference: CIEDE2000 on sRGB with a D65 white.
Color-blind eyes: Machado, Oliveira, Fernandes, IEEE TVCG 15 (2009), severity 1.0, applied to
linear light; protanopia and deuteranopia read in published code, tritanopia from memory.
"""

import numpy as np

EYES = {
    "all cones": np.eye(3),
    "protanopia": np.array(
        [
            (0.152286, 1.052583, -0.204868),
            (0.114503, 0.786281, 0.099216),
            (-0.003882, -0.048116, 1.051998),
        ]
    ),
    "deuteranopia": np.array(
        [
            (0.367322, 0.860646, -0.227968),
            (0.280085, 0.672501, 0.047413),
            (-0.011820, 0.042940, 0.968881),
        ]
    ),
    "tritanopia": np.array(
        [
            (1.255528, -0.076749, -0.178779),
            (-0.078411, 0.930809, 0.147602),
            (0.004733, 0.691367, 0.303900),
        ]
    ),
}
TO_XYZ = np.array(
    [
        (0.4124564, 0.3575761, 0.1804375),
        (0.2126729, 0.7151522, 0.0721750),
        (0.0193339, 0.1191920, 0.9503041),
    ]
)


def light(color):
    """A color as "#rrggbb" in linear light."""
    code = np.array([int(color[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)


def contrast(one, other):
    """Contrast ratio of two colors, 1 to 21."""
    bright, dim = sorted((float(light(c) @ TO_XYZ[1]) for c in (one, other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def lab(linear):
    """CIE L*a*b* of linear light."""
    ratio = TO_XYZ @ np.clip(linear, 0, 1) / np.array([0.95047, 1.0, 1.08883])
    root = np.where(ratio > 216 / 24389, np.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return np.array([116 * root[1] - 16, 500 * (root[0] - root[1]), 200 * (root[1] - root[2])])


def seen_apart(one, other, eye):
    """CIEDE2000 difference of two colors as an eye sees them."""
    return difference(*(lab(EYES[eye] @ light(color)) for color in (one, other)))


def difference(one, other):
    """CIEDE2000 difference of two colors in L*a*b*; all weights 1."""
    chroma = np.mean([np.hypot(c[1], c[2]) for c in (one, other)])
    stretch = 1.5 - 0.5 * np.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    light_1, light_2 = one[0], other[0]
    chroma_1, chroma_2 = (np.hypot(stretch * c[1], c[2]) for c in (one, other))
    hue_1, hue_2 = (np.degrees(np.arctan2(c[2], stretch * c[1])) % 360 for c in (one, other))
    turn = (hue_2 - hue_1 + 180) % 360 - 180 if chroma_1 * chroma_2 else 0.0
    d_hue = 2 * np.sqrt(chroma_1 * chroma_2) * np.sin(np.radians(turn / 2))
    mean_l, mean_c, mean_h = (light_1 + light_2) / 2, (chroma_1 + chroma_2) / 2, hue_1 + turn / 2
    if not chroma_1 * chroma_2:
        mean_h = hue_1 + hue_2
    cosines = ((-0.17, 1, -30), (0.24, 2, 0), (0.32, 3, 6), (-0.20, 4, -63))
    weight = 1 + sum(a * np.cos(np.radians(n * mean_h + shift)) for a, n, shift in cosines)
    scale_l = 1 + 0.015 * (mean_l - 50) ** 2 / np.sqrt(20 + (mean_l - 50) ** 2)
    scale_c, scale_h = 1 + 0.045 * mean_c, 1 + 0.015 * mean_c * weight
    blue = np.exp(-((((mean_h % 360) - 275) / 25) ** 2))
    rotate = -2 * np.sqrt(mean_c**7 / (mean_c**7 + 25.0**7)) * np.sin(np.radians(60 * blue))
    bright, c, h = (light_2 - light_1) / scale_l, (chroma_2 - chroma_1) / scale_c, d_hue / scale_h
    return float(np.sqrt(bright**2 + c**2 + h**2 + rotate * c * h))
