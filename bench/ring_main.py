"""Writes the description of an invented loop of 50 vessels: a ring main of 24 junctions with chords across, two branches
at each, 24 tanks that run over into 24 raft beds, a header tank that the main feeds from below, one sump. No two branches
are alike.

usage: ring_main.py > ring-main.toml
"""

JUNCTIONS = 24


def table(name, **keys):
    print(f"\n[{name}]")
    for key, value in keys.items():
        key = {"from_": "from", "in_": "in"}.get(key, key)
        print(f"{key} = {str(value).lower()}" if isinstance(value, (bool, float, int)) else f'{key} = "{value}"')


def pipe(name, start, end, bore_mm, length_m, losses, **more):
    table(f"pipe.{name}", from_=start, to=end, bore=f"{bore_mm} mm", length=f"{length_m} m", losses=losses, **more)


print('# Written by ring_main.py.\n[loop]\nname = "Ring main of 50 vessels"')
table("place", latitude=52.0)
table("sump.main", area="12 m2", floor="0.00 m", rim="1.00 m", level="0.60 m")
table("pump.main", in_="sump.main", shut_off_head="12 m", largest_flow="60 m3/h", check_valve=True, dry_run_level="0.10 m")
table("junction.j0")
pipe("delivery", "pump.main", "junction.j0", 90, 6.0, 4.0)
for j in range(1, JUNCTIONS):
    table(f"junction.j{j}")
for j in range(JUNCTIONS):
    pipe(f"ring{j}", f"junction.j{j}", f"junction.j{(j + 1) % JUNCTIONS}", [73.6, 67.8, 59.0][j % 3], 3.0 + 0.25 * (j % 7), 0.6)
for j in range(1, 6):
    pipe(f"chord{j}", f"junction.j{j}", f"junction.j{JUNCTIONS - j}", 42.6, 4.0 + j, 1.8)

table("tank.header", area="0.50 m2", floor="1.00 m", rim="1.80 m")
pipe("header", f"junction.j{JUNCTIONS // 2}", "tank.header", 27.2, 2.0, 3.5, outlet_level="1.05 m")
table("overflow.header", from_="tank.header", to="sump.main", rim="1.65 m", standpipe_bore="103.6 mm")

for j in range(JUNCTIONS):
    area, higher = 1.0 + 0.05 * (j % 5), 0.02 * (j % 4)
    table(f"tank.t{j}", area=f"{area:.2f} m2", floor="1.00 m", rim="1.95 m")
    pipe(f"tank{j}", f"junction.j{j}", f"tank.t{j}", 20.4, 1.5 + 0.2 * (j % 6), 3.0 + j % 4, outlet_level="2.00 m")
    table(f"overflow.t{j}", from_=f"tank.t{j}", to=f"raft_bed.b{j}", rim=f"{1.70 + higher:.2f} m", standpipe_bore="68.5 mm")
    table(f"raft_bed.b{j}", area=f"{3.0 * area:.2f} m2", floor="1.00 m", rim="1.45 m")
    pipe(f"bed{j}", f"junction.j{j}", f"raft_bed.b{j}", 16.0, 1.0 + 0.3 * (j % 5), 4.0, outlet_level="1.50 m")
    table(f"overflow.b{j}", from_=f"raft_bed.b{j}", to="sump.main", rim=f"{1.30 + 0.5 * higher:.2f} m", standpipe_bore="68.5 mm")
