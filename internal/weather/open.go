package weather

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// Open reads a weather file of any of the formats known, told by its content. Errors name the file without its folder.
func Open(path string, options ReadOptions) (Series, error) {
	f, err := os.Open(path)
	if err != nil {
		return Series{}, fmt.Errorf("reading weather: %w", err)
	}
	defer f.Close()
	return Read(f, filepath.Base(path), options)
}

// Read reads weather of any of the formats known, told by its content. name stands for the file in errors.
func Read(r io.Reader, name string, options ReadOptions) (Series, error) {
	content, err := text(r, name)
	if err != nil {
		return Series{}, err
	}
	head := content[:min(len(content), 4096)]
	switch {
	case strings.HasPrefix(strings.TrimSpace(head), "{"):
		return readJSON(content, name, options)
	case isNSRDB(head):
		return readNSRDB(content, name, options)
	case isCRN(head):
		return readCRN(content, name, options)
	case isPower(head):
		return readPowerHours(content, name, options)
	case strings.Contains(head, "\ntime(UTC),") || strings.Contains(head, "Irradiance Time Offset"):
		return readPVGIS(content, name, options)
	case strings.Contains(head, "ETR (W/m^2)") || strings.Contains(head, "Date (MM/DD/YYYY)"):
		return readTMY3(content, name)
	case strings.HasPrefix(strings.TrimSpace(head), "#"):
		return readPlain(content, name, options)
	}
	return Series{}, &FileError{Total: 1, Findings: []Finding{{
		File: name, Line: 1, What: "the format is not known; known are " + knownFormats,
		Hint: "a table of your own becomes a plain weather CSV by a few lines above it, see docs/weather.md",
	}}}
}

const knownFormats = "TMY3 CSV, PVGIS typical year CSV and JSON, NSRDB CSV, POWER hourly CSV, hourly lists of the Climate Reference Network, open archive JSON with hours, and the plain weather CSV"
