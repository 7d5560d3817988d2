# Reads what `go test -bench -benchmem` prints and writes one line per benchmark: time, time over that of BenchmarkUnit, and
# allocations, and what else a benchmark reports. Lines keep their order; the unit comes from the same run.
/^pkg:/ { pkg = $2; sub(/^suncellar\//, "", pkg); sub(/^internal\//, "", pkg) }
/^cpu:/ { cpu = $0; sub(/^cpu: */, "", cpu) }
/^Benchmark/ {
	name = $1; sub(/^Benchmark/, "", name); sub(/-[0-9]+$/, "", name)
	ns = bytes = allocs = hour = more = ""
	for (i = 3; i < NF; i += 2) { # value and what it is, in pairs
		if ($(i + 1) == "ns/op") ns = $i
		if ($(i + 1) == "B/op") bytes = $i
		if ($(i + 1) == "allocs/op") allocs = $i
		if ($(i + 1) == "ns/hour") hour = $i
		else if ($(i + 1) !~ /\/op$/) more = more sprintf("  %.3g %s", $i, $(i + 1))
	}
	n++
	if (hour) ns = hour # a benchmark of many hours tells one
	where[n] = pkg; what[n] = name; time[n] = ns; also[n] = more; heap[n] = bytes; news[n] = allocs
	if (name == "Unit") unit = ns
}
function plain(ns) {
	if (ns < 1e3) return sprintf("%.3g ns", ns)
	if (ns < 1e6) return sprintf("%.3g µs", ns / 1e3)
	if (ns < 1e9) return sprintf("%.3g ms", ns / 1e6)
	return sprintf("%.3g s", ns / 1e9)
}
END {
	if (!n) { print "no benchmark ran"; exit 1 }
	if (!unit) { print "BenchmarkUnit did not run: nothing to compare with"; exit 1 }
	printf "unit: one dense factor-and-solve of order 30, %s on %s\n\n", plain(unit), cpu
	printf "%-12s %-22s %12s %14s %12s %10s\n", "package", "benchmark", "time", "units", "bytes", "allocs"
	for (i = 1; i <= n; i++)
		printf "%-12s %-22s %12s %14.4g %12s %10s%s\n", where[i], what[i], plain(time[i]), time[i] / unit, heap[i], news[i], also[i]
}
