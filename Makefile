# Two commands do everything on a fresh Debian 12 machine:
#   make run    installs what is missing, builds, stages a demo bout and opens it
#   make test   installs what is missing and runs every check that CI runs
# The heavier checks: make race fuzz soak judges bench

GO      := ./.ci/go
BIN     := bin/whistlecut
DEMO    ?= demo
GOFUMPT := mvdan.cc/gofumpt@v0.12.0
STATIC  := honnef.co/go/tools/cmd/staticcheck@v0.8.2
FUZZ    ?= 5m
export LANG = C.UTF-8
export GOFLAGS = -buildvcs=false
# Packages that link no window: the race detector runs on these in every test run.
PLAIN   := ./timeline/... ./export/... ./app/boutfile/... ./app/collection/... ./app/examples/... ./app/play/... ./app/logging/... ./app/settings/... ./app/desk/keys/...

.PHONY: run build test lint race fuzz soak judges bench setup setup-test demo

run: build
	@.ci/demo $(BIN) $(DEMO)

setup:
	@.ci/setup build

setup-test:
	@.ci/setup test

build: setup
	@echo "building $(BIN)"
	@$(GO) build -o $(BIN) ./cmd/whistlecut

test: setup-test lint
	$(GO) test -timeout 30m ./...
	$(GO) test -race -short -timeout 30m $(PLAIN)

lint: setup
	@echo "gofumpt"
	@out=$$($(GO) run $(GOFUMPT) -l cmd app export timeline) || exit 1; \
	if [ -n "$$out" ]; then echo "these files are not gofumpt-formatted:"; echo "$$out"; exit 1; fi
	@echo "go vet"
	@$(GO) vet ./...
	@echo "staticcheck"
	@$(GO) run $(STATIC) ./...

race: setup-test
	$(GO) test -race -timeout 60m ./...

# Every fuzz target for $(FUZZ) each, one after the other.
fuzz: setup
	@.ci/fuzz $(FUZZ)

# All tests, those that know a heavier form in it: full-length bouts, 500 seeds, 200 kills.
soak: setup-test
	WHISTLECUT_SOAK=1 $(GO) test -count=1 -timeout 6h -v ./...

# Outside programs judge our files; their words are recorded with their origin.
judges:
	@.ci/setup judges
	WHISTLECUT_JUDGES=1 $(GO) test -count=1 -timeout 60m -v -run Judge ./...

bench: build
	$(GO) test -run '^$$' -bench . -benchtime 1x ./timeline/... ./app/boutfile/... ./app/desk/strip/...
	$(BIN) bench exact
	$(BIN) bench cut
	$(BIN) bench reel
	$(BIN) bench sheet
	$(BIN) bench listen --place
	$(BIN) bench screen
	$(BIN) bench desk
