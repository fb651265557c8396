"""Average run lengths in outcome-statistics.json. Python 3.11, numpy 2.4.6. Run: python3 make_run_lengths.py"""
import numpy as np

def length(rate, signal, failure=4):
    chain = np.zeros((signal, signal))
    for height in range(signal):
        if height + failure < signal:
            chain[height, height + failure] += rate
        chain[height, max(0, height - 1)] += 1 - rate
    return np.linalg.solve(np.eye(signal) - chain, np.ones(signal))[0]

for signal in (8, 10, 12, 14):
    print(signal, [round(length(rate, signal), 3) for rate in (0.1, 0.2, 0.3, 0.5)])
