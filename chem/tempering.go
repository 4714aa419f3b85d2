package chem

// Tempering: mixing two waters to a temperature, and bringing a standing bath
// to one with hot water, cold water or ice.
//
// Assumed: no heat is lost while mixing, and a millilitre of water weighs a
// gram at any temperature (at 50 C it weighs 0.988 g, which moves the result
// by less than 0.3 C). So measure the mixed water before it is used. Adding
// water thins a developer: correct the water of a jacket rather than the bath.

import (
	"fmt"
	"math"
	"time"
)

// Heat of water.
const (
	// WaterHeat is the specific heat of water, J/(g K): the calorie at 15 C, 4.1858 J, as GNU units has it.
	WaterHeat = 4.186
	// IceHeat is what melting takes, J/g (GNU units has 6.01 kJ/mol, 333.6). Ice is taken to be at 0 C and
	// melting; straight from a freezer at -18 C it takes 2.11 J/(g K), 38 J/g, more: a tenth less of it
	// does then.
	IceHeat = 334
	// ColdIceHeat is the specific heat of ice below zero, J/(g K) (2.1 from -20 to 0 C, from memory).
	ColdIceHeat = 2.1
)

// Temper returns how much hot and how much cold water make a volume at a
// temperature: the hot fraction is (to - cold)/(hot - cold). It errs where
// `to` lies outside cold to hot and where hot is not the warmer.
func Temper(to Celsius, volume Millilitres, hot, cold Celsius) (ofHot, ofCold Millilitres, err error) {
	if err := checkTemperatures(to, hot, cold); err != nil {
		return 0, 0, err
	}
	if err := checkVolume(volume); err != nil {
		return 0, 0, err
	}
	if !(hot > cold) {
		return 0, 0, fmt.Errorf("hot water: %s is not above the cold water's %s; expected hot above cold", hot.InBoth(), cold.InBoth())
	}
	if !(to >= cold && to <= hot) {
		return 0, 0, fmt.Errorf("tempering: %s cannot be had from water at %s and %s; expected a temperature between them", to.InBoth(), cold.InBoth(), hot.InBoth())
	}
	// heat given = heat taken: h (hot - to) = (volume - h)(to - cold)
	ofHot = volume * Millilitres((to-cold)/(hot-cold))
	return ofHot, volume - ofHot, nil
}

// StandingBath is a bath that stands at a temperature in a vessel of that
// temperature.
type StandingBath struct {
	Volume Millilitres
	T      Celsius
	Vessel float64 // its heat capacity, J/K: grams times specific heat; 0 to leave it out
}

// WaterToReach returns how much water at one temperature brings the bath to another.
// The volume grows by it. It errs where that water cannot do it.
func (s StandingBath) WaterToReach(to, water Celsius) (Millilitres, error) {
	if err := s.check(to, water); err != nil {
		return 0, err
	}
	if to == s.T {
		return 0, nil
	}
	if (to > s.T) != (water > to) || water == to {
		return 0, fmt.Errorf("tempering: water at %s does not bring a bath from %s to %s; expected water beyond %s", water.InBoth(), s.T.InBoth(), to.InBoth(), to.InBoth())
	}
	// C (to - T) = c v (water - to)
	return Millilitres(s.heatCapacity() * float64(to-s.T) / (WaterHeat * float64(water-to))), nil
}

// IceToReach returns how many grams of ice cool the bath to a temperature; ice is its own, 0 C where it
// melts. It errs where the bath is not the warmer, for 0 C and below, where ice
// would be left, and for ice above zero.
func (s StandingBath) IceToReach(to, ice Celsius) (grams float64, err error) {
	if err := s.check(to, ice); err != nil {
		return 0, err
	}
	if !(to > 0 && to <= s.T) {
		return 0, fmt.Errorf("ice: a bath at %s does not come to %s; expected above %s and at most %s", s.T.InBoth(), to.InBoth(), Celsius(0).InBoth(), s.T.InBoth())
	}
	if ice > 0 {
		return 0, fmt.Errorf("ice: %s; expected at most %s", ice.InBoth(), Celsius(0).InBoth())
	}
	// C (T - to) = g (ci (0 C - ice) + L + c (to - 0 C))
	return s.heatCapacity() * float64(s.T-to) / (-ColdIceHeat*float64(ice) + IceHeat + WaterHeat*float64(to)), nil
}

// StartFor is what a bath must be at now to be at a temperature after a time of drifting: Newton's law of cooling
// backwards. What evaporation takes is in where the bath settles, as it is measured.
func (d Drift) StartFor(to Celsius, after time.Duration) (Celsius, error) {
	if d.Tau <= 0 || after < 0 {
		return 0, fmt.Errorf("tempering: a time constant of %v, ready in %v; expected above zero, and zero or more", d.Tau, after)
	}
	start := d.Settle + (to-d.Settle)*Celsius(math.Exp(after.Seconds()/d.Tau.Seconds()))
	if !(start >= 0 && start <= 100) {
		return 0, fmt.Errorf("tempering: for %s in %v a bath that settles at %s would have to be at %s; expected a shorter time, or a jacket", to.InBoth(), after, d.Settle.InBoth(), start.InBoth())
	}
	return start, nil
}

// PouredFor is what a volume of water must be at so that it is at a temperature once it stands in a vessel of another: what the
// vessel takes, the water brings.
// Of the vessel are its heat capacity and its temperature.
func PouredFor(to Celsius, vessel StandingBath) (Celsius, error) {
	if err := vessel.check(to); err != nil {
		return 0, err
	}
	// c v (T - to) = C (to - vessel)
	return to + Celsius(vessel.Vessel/(WaterHeat*float64(vessel.Volume)))*(to-vessel.T), nil
}

// heatCapacity is the heat capacity of bath and vessel, J/K.
func (s StandingBath) heatCapacity() float64 { return WaterHeat*float64(s.Volume) + s.Vessel }

func (s StandingBath) check(others ...Celsius) error {
	if !(s.Vessel >= 0) || math.IsInf(s.Vessel, 0) {
		return fmt.Errorf("vessel: heat capacity %g J/K; expected zero or more", s.Vessel)
	}
	if err := checkVolume(s.Volume); err != nil {
		return err
	}
	return checkTemperatures(append(others, s.T)...)
}

func checkTemperatures(temperatures ...Celsius) error {
	for _, t := range temperatures {
		if err := t.check(); err != nil {
			return err
		}
	}
	return nil
}
