// Package vehicle computes what each meter would show: it takes a pack, a hidden fault and a condition, and gives
// readings.
//
// Start at Healthy, which gives a Vehicle without a fault; Apply hides one; Read gives a test's true value, Show
// (meter.go) what the instrument makes of it, BandOf its class. NewMatrix (matrix.go) does so for all faults and
// severities of a pack. Event (event.go) follows one ignition in time. Circuits (circuits.go) hands out the circuit
// behind a reading.
//
// A fault that comes and goes is there in conditions that provoke it only; provoke.go says how.
//
// Electrical state and behavior depend on each other; settle.go says how that is solved. The package knows nothing of
// labs, students or marks. Rooms of their own: the physics of a coil (coil), what is wrong with a pack itself (lint),
// circuits for SPICE (netlist).
package vehicle
