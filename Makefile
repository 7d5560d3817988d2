# Suncellar. `make` alone lists the targets.
#
# Go and its module proxy, Node and npm with its registry are all that demo needs; test needs Chromium besides. Each target says what is missing here before it starts.

SHELL := /bin/sh
.DEFAULT_GOAL := help

# The Go named in go.mod is fetched where it can be; else the one of this machine is used, and .ci/need says so.
GOTOOLCHAIN := auto
TOOLCHAIN = $(eval TOOLCHAIN := $(shell GOTOOLCHAIN=$(GOTOOLCHAIN) .ci/need toolchain))$(TOOLCHAIN)
GO = GOTOOLCHAIN=$(TOOLCHAIN) go
# The commit is stamped into the program where git can tell it (not in a folder of another owner, nor without git).
STAMP = $(shell git status --porcelain >/dev/null 2>&1 || echo -buildvcs=false)
BUILD = CGO_ENABLED=0 $(GO) build $(STAMP) -trimpath -ldflags '-s -w'
SYSTEMS := linux/amd64 linux/arm64 darwin/arm64 windows/amd64
FUZZTIME ?= 30s

.PHONY: help demo test build page bench check long coverage fuzz golden cover release clean need-go need-git need-node

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "make %-8s %s\n", $$1, $$2 }' Makefile

demo: build ## build page and program and compute the winter of the example house; its folder stays, and on a terminal it is opened in the browser
	bin/suncellar demo
	@folder=$$(ls -dt suncellar-demo*/ | head -n 1); folder=$${folder%/}; \
	if [ -t 1 ]; then echo; bin/suncellar serve "$$folder/larch-hollow.yaml"; else printf '\nShape it in the browser:\n  bin/suncellar serve %s/larch-hollow.yaml\n' "$$folder"; fi

test: build ## run all tests, those of the page in Chromium
	$(GO) test -timeout 10m ./...
	cd ui && SUNCELLAR_BROWSER=$$(../.ci/need browser) npm test

build: need-go page ## build bin/suncellar, one static file, with its page
	$(BUILD) -o bin/ ./cmd/suncellar

PAGE = $(shell find ui/src ui/public -type f) ui/index.html ui/package-lock.json ui/vite.config.ts ui/svelte.config.js ui/tsconfig.json ui/openapi.json
page: ui/dist/index.html ## build the page that the program carries
ui/dist/index.html: $(PAGE)
	@$(MAKE) --no-print-directory need-node
	cd ui && npm ci --no-fund --no-audit --loglevel=error && npm run --silent types && npm run --silent check && npm run --silent build

bench: need-go ## time the parts, each also in units of one dense solve of order 30
	@$(GO) test -run '^$$' -bench . -benchmem ./internal/... >bench.out || { cat bench.out; rm -f bench.out; exit 1; }
	@awk -f .ci/ratios.awk bench.out; rm -f bench.out

check: need-go ## format, vet, layout, licences, and documents that follow from the code
	@unformatted=$$(gofmt -l cmd docs examples internal validation); [ -z "$$unformatted" ] || { echo "not formatted (gofmt -w):"; echo "$$unformatted"; exit 1; }
	$(GO) vet ./...
	$(GO) test -count=1 ./internal/layout
	$(GO) test -count=1 -run 'Docs|Document|Markdown' ./internal/plan ./internal/unknown

long: need-go ## an hour: every test with SUNCELLAR_LONG=1, twenty times the random cases, two minutes of nonsense for each reader
	SUNCELLAR_LONG=1 $(GO) test -count=1 -timeout 60m ./...
	SUNCELLAR_LONG=1 $(GO) test -count=1 -timeout 60m $$(grep -rl --include='*_test.go' '"pgregory.net/rapid"' internal | xargs -n1 dirname | sort -u | sed 's|^|./|') -rapid.checks=2000
	FUZZTIME=2m GOTOOLCHAIN=$(TOOLCHAIN) .ci/fuzz

coverage: need-go ## an hour: bands of 400 made houses held against what comes true, with SUNCELLAR_REFERENCE; goes on where it was stopped
	SUNCELLAR_COVERAGE=all $(GO) test -count=1 -timeout 0 ./validation -run 'TestCoverage$$'

fuzz: need-go ## feed every reader with nonsense, FUZZTIME (30s) each
	FUZZTIME=$(FUZZTIME) GOTOOLCHAIN=$(TOOLCHAIN) .ci/fuzz

golden: build ## write golden files, tables of documents and the README's excerpt anew; read the difference before you commit it
	$(GO) test -count=1 ./internal/layout ./internal/plan ./internal/drawing ./internal/unknown ./internal/winter ./internal/cli -update
	rm -rf bin/demo && bin/suncellar demo bin/demo >/dev/null && .ci/readme write bin/demo

cover: need-go ## how much of each package its tests reach
	$(GO) test -cover ./internal/... | awk '{ sub("suncellar/internal/", ""); print }' | grep -v 'no test files'

release: need-go need-git ## build for every system into bin/release, with licences
	rm -rf bin/release
	@for s in $(SYSTEMS); do \
		os=$${s%/*}; arch=$${s#*/}; end=; [ $$os = windows ] && end=.exe; \
		d=bin/release/suncellar-$$(git describe --tags --always --dirty)-$$os-$$arch; mkdir -p $$d; \
		echo "$$d"; GOOS=$$os GOARCH=$$arch $(BUILD) -o $$d/suncellar$$end ./cmd/suncellar || exit 1; \
		cp LICENSE THIRD_PARTY.md README.md $$d; \
	done

clean: ## take away what was built; folders of demos stay
	rm -rf bin ui/node_modules ui/dist/index.html ui/dist/icon.svg ui/dist/assets

need-go:
	@GOTOOLCHAIN=$(GOTOOLCHAIN) .ci/need go

need-git:
	@.ci/need git

need-node:
	@.ci/need node
