package content_test

import (
	"fmt"
	"math"
	"strings"

	"faultwright/faulttree"
)

// handMeter is somebody's meter.
type handMeter struct {
	counts     int     // of its ranges
	wholeVolts bool    // shows volts AC without a decimal
	share      float64 // its error, of the reading
	leads      float64 // ohms that were not nulled
	input      float64 // picofarads beside ten megohms
	low        float64 // ohms of the low-impedance input
}

// read is what the meter shows of q, taken as its method says.
func (d *drawing) read(q faulttree.Quantity) faulttree.Reading {
	turns := [][]string{d.legs}
	if len(q.Take.Loads) > 0 {
		turns = append(turns, nil)
		for i := range d.legs {
			turns = append(turns, d.legs[i:i+1])
		}
	}
	best, first := math.NaN(), math.NaN()
	for _, loads := range turns {
		for _, at := range q.At() {
			x, can := d.value(at, loads)
			better := best != best || q.Take.Counts == faulttree.TakeHighest && x > best || q.Take.Counts == faulttree.TakeLowest && x < best ||
				q.Take.Counts == faulttree.TakeFarthest && math.Abs(x-first) > math.Abs(best-first)
			if can && better {
				best = x
			}
			if first != first {
				first = best
			}
		}
	}
	if best != best {
		return faulttree.NotTaken("out of reach")
	}
	return d.meter.shows(best*(1+d.meter.share), q)
}

// shows words a value as the display does.
func (m handMeter) shows(x float64, q faulttree.Quantity) faulttree.Reading {
	text := ""
	switch {
	case q.Unit == faulttree.Ohms && x > float64(m.counts)*1e4:
		text = "OL"
	case q.Unit == faulttree.VoltsAC && m.wholeVolts:
		text = fmt.Sprintf("%.0f V", x)
	default:
		step := map[faulttree.Unit]float64{faulttree.Ohms: .1, faulttree.VoltsAC: .001, faulttree.VoltsDC: .001}[q.Unit]
		for math.Abs(x) > step*float64(m.counts) {
			step *= 10
		}
		text = fmt.Sprintf("%.*f %s", max(0, -int(math.Round(math.Log10(step)))), math.Round(x/step)*step, map[faulttree.Unit]string{faulttree.Ohms: "Ω"}[q.Unit])
	}
	r, err := faulttree.ParseReading(strings.TrimSpace(text), q)
	if err != nil {
		return faulttree.NotTaken(err.Error())
	}
	return r
}
