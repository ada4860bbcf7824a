import { M3S_PER_LPM, PA_PER_BAR, RADS_PER_RPM, W_PER_KW } from '@/lib/units'
import type { SensorRole } from './sensor-grounds'
import type { SymbolCode } from './symbols'

/** A symbol that has a value at every moment: its unit, and the sensor that reads it where one does. */
interface Quantity {
  readonly unit: string
  readonly factor: number
  readonly role: SensorRole | null
}

const bar = (role: SensorRole): Quantity => ({ unit: 'bar', factor: PA_PER_BAR, role })
const flow = (role: SensorRole | null = null): Quantity => ({ unit: 'L/min', factor: M3S_PER_LPM, role })
const power = (role: SensorRole | null = null): Quantity => ({ unit: 'kW', factor: W_PER_KW, role })

/** Units in which means of the account are told, over their SI values. */
export const QUANTITIES: Readonly<Partial<Record<SymbolCode, Quantity>>> = {
  pumpPressure: bar('pumpPressure'),
  loadPressure: bar('loadPressure'),
  tankPressure: bar('tankPressure'),
  pumpFlow: flow(),
  systemFlow: flow(),
  reliefFlow: flow(),
  unloadingFlow: flow(),
  residualFlow: flow(),
  pumpFlowMeter: flow('pumpFlow'),
  systemFlowMeter: flow('systemFlow'),
  returnFlowMeter: flow('returnFlow'),
  caseDrainMeter: flow('caseDrain'),
  speedMeter: { unit: 'rpm', factor: RADS_PER_RPM, role: 'speed' },
  voltageMeter: { unit: 'V', factor: 1, role: 'voltage' },
  fullFlowModel: flow(),
  fullFlowAtSpeed: flow(),
  displacedFlow: flow(),
  displacedFlowAtSpeed: flow(),
  partStrokeFlow: flow(),
  reliefLineFlow: flow(),
  reliefLeakFlow: flow(),
  electricPower: power(),
  shaftPower: power(),
  powerMeter: power('power'),
  currentMeter: { unit: 'A', factor: 1, role: 'current' },
  inputFromPower: power(),
  inputFromShaft: power(),
  shaftFromPower: power(),
  powerFromCurrent: power(),
  powerFromPump: power(),
  powerFromPumpAtSpeed: power(),
  startingPower: power(),
}
