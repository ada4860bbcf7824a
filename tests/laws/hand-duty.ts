import { handFlowLpm, handReliefBar } from './hand-machine'
import type { Piece } from './hand-trace'

/** The whole flow over the relief: 90 − 4.5 = 85.5 L/min at 160 bar. */
export const IDLE: Piece = { seconds: 20, bar: 160, loadBar: 0, systemLpm: 0 }

/** All flow to an actuator: 90 − 2.25 = 87.75 L/min at 80 bar. */
export const MOVE: Piece = { seconds: 6, bar: 80, loadBar: 70, systemLpm: handFlowLpm(80), cycle: 1 }

/** Half of the relief's rated flow passes it: 150.4 + 4.8 = 155.2 bar; 85.635 − 42.75 = 42.885 L/min go on. */
export const METER: Piece = {
  seconds: 5,
  bar: handReliefBar(42.75),
  loadBar: 60,
  systemLpm: handFlowLpm(handReliefBar(42.75)) - 42.75,
  cycle: 1,
}

/** Pressure held on a clamped load. */
export const HOLD: Piece = { seconds: 3, bar: 160, loadBar: 140, systemLpm: 0, cycle: 1 }

/** Motor off. */
export const OFF: Piece = { seconds: 10, bar: 0, loadBar: 0, systemLpm: 0, off: true }

/** Whole flow to tank at 5 bar. */
export const UNLOADED: Piece = { seconds: 20, bar: 5, loadBar: 0, systemLpm: 0 }

/** Inrush of six times rated current. */
export const START: Piece = { seconds: 2, bar: 0, loadBar: 0, systemLpm: 0, kW: 80, amps: 320, returnLpm: 0 }
