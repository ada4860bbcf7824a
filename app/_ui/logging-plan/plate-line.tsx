import type { Machine } from '@/lib/contract/machine'
import { entered } from '../format'
import { Blank } from './opened'

/** The machine by its plates in one line, and on paper who was there and when. */
export function PlateLine({ machine: { motor, pump, relief } }: { machine: Machine }) {
  const current = motor.ratedCurrentA === undefined ? '' : `, ${entered(motor.ratedCurrentA)} A`
  return (
    <>
      <p className="plate-line">
        Motor {entered(motor.ratedPowerKW)} kW, {entered(motor.ratedVoltageV)} V{current}; pump {pump.kind},{' '}
        {entered(pump.displacementCm3)} cm³ at {entered(pump.ratedSpeedRpm)} rpm; relief {relief.kind}, set to{' '}
        {entered(relief.settingBar)} bar.
      </p>
      <p className="paper-only">
        Technician <Blank wide /> Date <Blank /> Logger, serial number <Blank />
      </p>
    </>
  )
}
