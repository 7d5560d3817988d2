#!/usr/bin/env python3
"""Integrates a network written by the tests (SUNCELLAR_NETWORK, internal/greenhouse/write_test.go) with scipy's BDF.

    python3 docs/stiff.py FILE [tolerance in K] [hours] [file for the temperatures of all nodes that hold heat, .npy]

Coefficients stand still through each hour, as they were written; freezing follows the enthalpy laws. Nodes without heat are eliminated hour by hour. Needs
numpy and scipy (Debian: python3-scipy). Used once, for docs/performance.md.
"""
import json
import sys
import time

import numpy as np
import scipy.sparse as sp
from scipy.integrate import solve_ivp


def main(path, tol, hours, keep=None):
    f = open(path)
    net = json.loads(f.readline())
    nodes = net["nodes"]
    heat = [not n["given"] and (n["law"]["Liquid"] > 0 or n["law"]["Latent"] > 0) for n in nodes]
    laws, theta0 = [], []
    index = {}
    for i, n in enumerate(nodes):
        if heat[i]:
            index[i] = len(laws)
            laws.append(n["law"])
            theta0.append(n["t"])
    first_cell = len(laws)
    body = net["bodies"][0]
    for c in body["cells"]:
        laws.append(c["law"])
        theta0.append(c["t"])
    first_mode = len(laws)
    for m in net["modes"]:
        theta0 += m["q"]
    size, massless = len(theta0), [i for i, n in enumerate(nodes) if not n["given"] and not heat[i]]
    low = {i: k for k, i in enumerate(massless)}
    given = [i for i, n in enumerate(nodes) if n["given"]]
    gi = {i: k for k, i in enumerate(given)}
    L = {k: np.array([l[k] for l in laws]) for k in ("Liquid", "Frozen", "Latent", "Lower", "Upper")}
    slope = np.where(L["Latent"] > 0, L["Latent"] / np.where(L["Latent"] > 0, L["Upper"] - L["Lower"], 1), 0)
    h_up = L["Liquid"] * L["Upper"]
    h_low = h_up - L["Latent"]
    freezes = L["Latent"] > 0

    def temperature(H):
        T = H / L["Liquid"]
        d = 1 / L["Liquid"]
        mid = freezes & (H < h_up) & (H > h_low)
        ice = freezes & (H <= h_low)
        T = np.where(mid, L["Upper"] + (H - h_up) / np.where(freezes, slope, 1), T)
        d = np.where(mid, 1 / np.where(freezes, slope, 1), d)
        T = np.where(ice, L["Lower"] + (H - h_low) / np.where(freezes, L["Frozen"], 1), T)
        d = np.where(ice, 1 / np.where(freezes, L["Frozen"], 1), d)
        return T, d

    def enthalpy(T):
        H = L["Liquid"] * T
        H = np.where(freezes & (T < L["Upper"]), h_up + (T - L["Upper"]) * slope, H)
        return np.where(freezes & (T <= L["Lower"]), h_low + (T - L["Lower"]) * L["Frozen"], H)

    y = np.concatenate([enthalpy(np.array(theta0[:first_mode])), np.array(theta0[first_mode:])])
    capacity = np.concatenate([L["Liquid"], np.ones(size - first_mode) * np.sqrt(1e4)])
    kinds = {}
    for i in range(len(nodes)):
        kinds[i] = ("s", index[i]) if heat[i] else ("m", low[i]) if i in low else ("g", gi[i])
    done, begun, steps, lus, worst = 0, time.process_time(), 0, 0, 0.0
    sums, count, kept = None, 0, []
    for line in f:
        if done == hours or time.process_time() - begun > 900:
            break
        hour = json.loads(line)
        entries = {k: ([], [], []) for k in ("ss", "sm", "sg", "ms", "mm", "mg")}

        def put(row, col, v):  # rate into row for the temperature of col
            if row[0] == "g":
                return
            e = entries[row[0] + col[0]]
            e[0].append(row[1]); e[1].append(col[1]); e[2].append(v)

        def join(a, b, g):
            put(a, a, -g); put(a, b, g); put(b, b, -g); put(b, a, g)

        for (a, b), g in zip(net["joins"], hour["g"]):
            if g:
                join(kinds[a], kinds[b], g)
        for (a, b), w in zip(net["carries"], hour["w"]):
            if w:
                put(kinds[b], kinds[a], w); put(kinds[a], kinds[a], -w)
        T, _ = temperature(y[:first_mode])
        ice = np.clip(np.where(freezes, (L["Upper"] - T) / np.where(freezes, L["Upper"] - L["Lower"], 1), 0), 0, 1)[first_cell:]
        mix = lambda r, rf, c: r if not rf else r + ice[c] * (rf - r)
        for e in body["edges"]:
            join(("s", first_cell + e["I"]), ("s", first_cell + e["J"]), 1 / (mix(e["RI"], e["RIfrozen"], e["I"]) + mix(e["RJ"], e["RJfrozen"], e["J"])))
        for p in body["ports"]:
            join(("s", first_cell + p["Cell"]), kinds[p["Node"]], 1 / mix(p["R"], p["RFrozen"], p["Cell"]))
        at = first_mode
        for m in net["modes"]:
            p = len(m["nodes"])
            for j, id in enumerate(m["nodes"]):
                put(kinds[id], kinds[id], -m["total"][j])
            for k, rate in enumerate(m["rate"]):
                put(("s", at + k), ("s", at + k), -rate)
                for j, id in enumerate(m["nodes"]):
                    b = m["shape"][k * p + j]
                    put(("s", at + k), kinds[id], b); put(kinds[id], ("s", at + k), b)
            at += len(m["rate"])
        n = {"s": size, "m": len(massless), "g": len(given)}
        A = {k: sp.csc_matrix((e[2], (e[0], e[1])), shape=(n[k[0]], n[k[1]])) for k, e in entries.items()}
        src_s, src_m = np.zeros(size), np.zeros(len(massless))
        for to, q in zip(net["injects"], hour["q"]):
            kind, k = kinds[to]
            (src_s if kind == "s" else src_m)[k] += q
        inv = np.linalg.inv(A["mm"].toarray())
        sm = A["sm"] @ inv
        full = (A["ss"] - sp.csc_matrix(sm @ A["ms"])).tocsc()
        t0 = np.array([hour["T0"][i] for i in given]); t1 = np.array([hour["T1"][i] for i in given])
        at0 = A["sg"] @ t0 + src_s - sm @ (A["mg"] @ t0 + src_m)
        at1 = (A["sg"] @ (t1 - t0) - sm @ (A["mg"] @ (t1 - t0))) / 3600

        def theta(y):
            T, d = temperature(y[:first_mode])
            return np.concatenate([T, y[first_mode:]]), np.concatenate([d, np.ones(size - first_mode)])

        def rate(t, y):
            return full @ theta(y)[0] + at0 + at1 * t

        def jac(t, y):
            return full @ sp.diags(theta(y)[1])

        s = solve_ivp(rate, (0, 3600), y, method="BDF", jac=jac, rtol=1e-10, atol=tol * capacity)
        if not s.success:
            sys.exit("hour %d: %s" % (done, s.message))
        y = s.y[:, -1]
        steps += s.t.size - 1
        lus += s.nlu
        T = theta(y)[0]
        d = np.array([T[index[i]] - hour["T"][i] for i in range(len(nodes)) if heat[i]])
        kept.append([T[index[i]] for i in range(len(nodes)) if heat[i]])
        if done >= 72:
            sums = d * d if sums is None else sums + d * d
            count += 1
        done += 1
    spent = time.process_time() - begun
    if keep:
        np.save(keep, np.array(kept))
    apart = np.sqrt(sums / count).max() if count else float("nan")
    print("%d unknowns, %d hours in %.0f s of processor time: %.1f ms an hour, %.1f steps and %.1f factors an hour; within %.3f K rms of the program's nodes" %
          (size, done, spent, 1e3 * spent / done, steps / done, lus / done, apart))


main(sys.argv[1], float(sys.argv[2]) if len(sys.argv) > 2 else 0.02, int(sys.argv[3]) if len(sys.argv) > 3 else 10**9, sys.argv[4] if len(sys.argv) > 4 else None)
