"""Makes countbacks.json: 240 countbacks worked out with Python's datetime.date (proleptic Gregorian calendar), the reference for every date of the command
`countback` by each shipped profile. Rules as in the contract of the command: graft = I - age - 12; virgins emerge I - age; useful drone eggs I - oldest - 24 to
I - youngest - 24; first carbon dioxide I - 1; second dose I + 2. Comb leads 2, 3 and 7 days are the profiles' own.
Run: python3 tests/golden/rearing/make_countbacks.py   (Python 3.11, standard library only, seed 1)"""
import datetime, json, pathlib, random

random.seed(1)
LEAD = {"standard-text": 2, "common-practice": 3, "early-spring": 7}
# Leap days, the days after, century years without one, New Year, clock changes of both hemispheres, a southern season.
FIXED = ["2028-02-29", "2028-03-01", "2000-03-01", "2100-03-01", "1900-03-01", "2027-01-01", "2027-03-28", "2027-10-31", "2027-04-04",
         "2027-10-03", "2026-12-12", "2027-11-07", "2027-03-14"]

def day(iso):
    return datetime.date.fromisoformat(iso)

def back(on, days):
    return (on - datetime.timedelta(days=days)).isoformat()

def one(iso, profile, age, youngest, oldest, doses, hold):
    on = day(iso)
    last = 2 if doses == 2 else 0
    days = {
        "drone-comb-in": back(on, oldest + 24 + LEAD[profile]),
        "drone-eggs": [back(on, oldest + 24), back(on, youngest + 24)],
        "drone-brood-out": back(on, oldest + 1),
        "drones-emerge": [back(on, oldest), back(on, youngest)],
        "starter": back(on, age + 12 + 2),
        "graft": back(on, age + 12),
        "nucs-ready": back(on, age + 3),
        "cells-out": back(on, age + 2),
        "virgins-emerge": back(on, age),
        "trial-eversion": back(on, 2),
        "inseminate": iso,
        "release": back(on, -last - hold),
        "egg-check": back(on, -7), "egg-check-2": back(on, -10), "egg-check-3": back(on, -14),
        "brood-check": back(on, -21), "own-workers": [back(on, -26), back(on, -35)],
    }
    days["first-co2" if doses == 1 else "second-dose"] = back(on, 1 if doses == 1 else -2)
    return {"inseminate": iso, "profile": profile, "queenAge": age, "droneAge": f"{youngest}-{oldest}", "doses": doses, "holdDays": hold, "days": days}

cases = [one(iso, profile, 8, 14, 21, 1, 2) for iso in FIXED for profile in LEAD]
while len(cases) < 240:
    on = datetime.date(1890, 1, 1) + datetime.timedelta(days=random.randrange(90_000))
    youngest = random.randrange(12, 20)
    cases.append(one(on.isoformat(), random.choice(list(LEAD)), random.randrange(5, 15), youngest, youngest + random.randrange(0, 10),
                     random.choice([1, 2]), random.randrange(0, 5)))
out = {"origin": "tests/golden/rearing/make_countbacks.py", "cases": cases}
pathlib.Path(__file__).with_name("countbacks.json").write_text(json.dumps(out, separators=(",", ":")) + "\n")
