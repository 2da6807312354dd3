# Works the tables of tables.json out with NLTK, statsmodels and SciPy of Debian 12.
# Usage: /usr/bin/python3 agreement.py tables.json > said.json
import json
import sys

import nltk
import scipy
import scipy.stats
import statsmodels
from nltk.metrics.agreement import AnnotationTask
from statsmodels.stats.inter_rater import aggregate_raters, fleiss_kappa
from statsmodels.stats.proportion import proportion_confint

asked = json.load(open(sys.argv[1]))
said = {"nltk": nltk.__version__, "statsmodels": statsmodels.__version__, "scipy": scipy.__version__, "tables": [], "shares": [], "means": []}
for rows in asked["tables"]:
    task = AnnotationTask(data=[
        (str(rater), str(unit), answer)
        for unit, row in enumerate(rows) for rater, answer in enumerate(row) if answer
    ])
    complete = [row for row in rows if all(row)]
    kappa = None
    if len(complete) > 1 and len({a for row in complete for a in row}) > 1:
        counted, _ = aggregate_raters(complete)
        kappa = float(fleiss_kappa(counted, method="fleiss"))
    said["tables"].append({"alpha": float(task.alpha()), "kappa": kappa, "complete": len(complete)})
for right, of in asked["shares"]:
    said["shares"].append([float(x) for x in proportion_confint(right, of, method="wilson")])
for xs in asked["means"]:
    n = len(xs)
    said["means"].append([float(x) for x in scipy.stats.t.interval(0.95, n - 1, loc=sum(xs) / n, scale=scipy.stats.sem(xs))])
json.dump(said, sys.stdout, indent=1)
print()
