package circuit

import "math"

// Metal is what a conductor is made of.
type Metal struct {
	OhmMetres float64 // resistivity at 20 °C
	PerKelvin float64 // change of resistance for each kelvin, at 20 °C
}

// Copper is annealed copper of 100 % conductivity: 1.7241e-8 Ω·m and 0.00393/K
// at 20 °C (NBS Handbook 100, from memory, not verified; it reproduces the
// published wire table of the tests).
func Copper() Metal { return Metal{1.7241e-8, 0.00393} }

// GaugeMetres is the diameter of an American wire gauge in metres; 1/0 is 0,
// 2/0 is -1: d = 0.127 mm × 92^((36-n)/39) (ASTM B258, from memory, not
// verified; it gives every published diameter of the tests).
func GaugeMetres(gauge float64) float64 {
	return 0.127e-3 * math.Pow(92, (36-gauge)/39)
}

// Ohms is the resistance of a round conductor of a length and a diameter in
// metres at a temperature in degrees Celsius: R = ρ l / A × (1 + α (t - 20)).
func (m Metal) Ohms(length, diameter, celsius float64) float64 {
	area := math.Pi * diameter * diameter / 4
	return m.OhmMetres * length / area * (1 + m.PerKelvin*(celsius-20))
}
