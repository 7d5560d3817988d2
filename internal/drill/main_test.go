package drill

import (
	"testing"

	"suncellar/internal/drawn"
)

func TestMain(m *testing.M) { drawn.Main(m) }
