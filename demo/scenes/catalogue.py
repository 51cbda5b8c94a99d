"""Every sole picture: the sole, its colours, how it lies, camera, light. Lengths in mm, angles in degrees, colours linear RGB."""

SAND, OLIVE, MOSS, DARK, INK = (0.42, 0.31, 0.19), (0.105, 0.11, 0.055), (0.06, 0.065, 0.035), (0.018, 0.018, 0.02), (0.012, 0.014, 0.020)
GUM, STONE, CLAY, FELT = (0.28, 0.13, 0.05), (0.30, 0.28, 0.24), (0.20, 0.075, 0.04), (0.16, 0.15, 0.13)

A3, A4 = (420.0, 297.0), (297.0, 210.0)


def scene(name, where, layout, side, **more):
    base = dict(
        name=name, where=where, layout=layout, side=side, settings={}, length=295.0, width_scale=1.0, seed=1,
        size_px=(1280, 960), focal_px=2080.0, jpeg=88, samples=5,
        scale="rectangle", sheet=A3, plane=96.0, body=True,
        sole_turn=3.0, sole_at=(0.0, 0.0), sheet_turn=0.6, sheet_at=(0.0, 0.0), tilt=4.0, tilt_azimuth=250.0, distance=760.0, look_at=(0.0, 0.0),
        rubber=MOSS, textile=SAND, leather=(0.23, 0.10, 0.04), foxing=GUM, upper=SAND, mat=(0.16, 0.17, 0.17),
        textile_kind="flock", rubber_rough=0.48, wall=0.55, wear=0.5, key=(1.0, 215.0), fill=0.35, key_colour=(1.0, 0.95, 0.88), fstop=9.0, exposure=0.55, grain=0.010)
    unknown = set(more) - set(base)
    assert not unknown, unknown
    base.update(more)
    return base


DEMO = dict(size_px=(1840, 1380), focal_px=3000.0, samples=6, jpeg=88)
ONE = dict(layout="mirrow", rubber=MOSS, textile=SAND, foxing=GUM, upper=SAND)
TWO = dict(layout="mirrow", rubber=(0.022, 0.021, 0.019), textile=(0.024, 0.022, 0.020), foxing=GUM, upper=SAND)

SCENES = [
    scene("build-1-sole-left", "demo/build-1", side="left", settings={"inset": 14.0}, seed=11, sole_turn=2.0, tilt=4.5, tilt_azimuth=255, **DEMO, **ONE),
    scene("build-1-sole-right", "demo/build-1", side="right", settings={"inset": 13.8}, seed=12, sole_turn=-3.0, tilt=6.0, tilt_azimuth=285, key=(1.0, 160.0), **DEMO, **ONE),
    scene("build-2-sole-left", "demo/build-2", side="left", settings={"inset": 16.5}, seed=21, sole_turn=4.0, tilt=5.0, tilt_azimuth=240, exposure=1.1, key=(1.0, 200.0), rubber_rough=0.38, **DEMO, **TWO),
    scene("build-2-sole-right", "demo/build-2", side="right", settings={"inset": 17.5}, seed=22, sole_turn=-2.0, tilt=7.5, tilt_azimuth=300, exposure=1.1, key=(1.0, 150.0), rubber_rough=0.38, **DEMO, **TWO),

    scene("garden-olive", "tests", "garden", "left", seed=31, rubber=DARK, textile=OLIVE, tilt=9.0, tilt_azimuth=230, sole_turn=6, plane=28.0, body=False, distance=700.0, key=(1.2, 140.0)),
    scene("court-same-colour", "tests", "court", "right", seed=32, size_px=(1440, 1080), focal_px=2340.0, rubber=INK, textile=(0.014, 0.016, 0.021), rubber_rough=0.36, exposure=1.2, tilt=11.0, tilt_azimuth=70, sole_turn=-7, key=(1.0, 60.0)),
    scene("deck-clay", "tests", "deck", "left", seed=33, rubber=CLAY, textile=STONE, foxing=STONE, tilt=15.0, tilt_azimuth=265, distance=790.0, look_at=(0.0, -6.0), key=(1.4, 320.0), fill=0.18, textile_kind="twill"),
    scene("camp-felt", "tests", "camp", "right", seed=34, rubber=GUM, textile=FELT, tilt=7.0, tilt_azimuth=120, sole_turn=5, plane=24.0, body=False, distance=735.0, key=(1.1, 20.0), wear=1.2),
    scene("parquet-leather", "tests", "parquet", "left", seed=35, rubber=(0.05, 0.035, 0.025), textile=(0.085, 0.05, 0.03), tilt=3.0, tilt_azimuth=200, scale="bar", sole_turn=-4, plane=26.0, body=False, distance=640.0, key=(1.2, 250.0)),
    scene("garden-black", "tests", "garden", "right", seed=36, settings={"share_shift": -7.0}, rubber=DARK, textile=(0.02, 0.02, 0.021), rubber_rough=0.42, exposure=1.1, tilt=13.0, tilt_azimuth=330, distance=790.0, look_at=(14.0, 0.0), sole_turn=8, key=(1.3, 95.0), fill=0.22),
]

BY_NAME = {s["name"]: s for s in SCENES}
