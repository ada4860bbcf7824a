import type { Result } from '@/lib/contract/result'
import { EstimateCell } from '../estimate-cell'
import { number, percent, tick } from '../format'
import { Scroll } from '../scroll'

const PER_CENT = 100
/** `28 to 56`, kept on one line. */
const range = (from: number, to: number) => `${tick(from)} to ${tick(to)}`.replaceAll(' ', '\u00a0')

/** The pump as the log shows it: volumetric efficiency against the nameplate, and efficiency over pressure and flow. */
export function PumpHealth({ result }: { result: Result }) {
  const { volumetricEfficiency, efficiencyPlane } = result.pumpHealth
  const whole = efficiencyPlane.reduce((sum, { hours }) => sum + hours, 0)
  return (
    <div className="columns">
      {volumetricEfficiency.length > 0 ? (
        <Scroll label="Volumetric efficiency of the pump">
          <table>
            <caption>Volumetric efficiency: flow given over flow swept</caption>
            <thead>
              <tr>
                <th scope="col" className="num">
                  At <span className="unit">bar</span>
                </th>
                <th scope="col" className="num">
                  In this log <span className="unit">%, ± 95 %</span>
                </th>
                <th scope="col" className="num">
                  Nameplate <span className="unit">%</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {volumetricEfficiency.map(({ pressureBar, seen, nameplate }) => (
                <tr key={pressureBar}>
                  <th scope="row" className="num">
                    {number(pressureBar)}
                  </th>
                  <EstimateCell estimate={seen} scale={PER_CENT} />
                  <td className="num">{number(PER_CENT * nameplate)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      ) : (
        <p className="nodata">
          Volumetric efficiency: no data. A flow meter at the pump’s outlet or in the system line would show
          it.
        </p>
      )}
      <Scroll label="Efficiency of the pump over pressure and flow">
        <table>
          <caption>Overall efficiency where the pump ran: hydraulic energy out over shaft energy in</caption>
          <thead>
            <tr>
              <th scope="col">
                Pressure <span className="unit">bar</span>
                <span className="phone-only">
                  Pump flow <span className="unit">L/min</span>
                </span>
              </th>
              <th scope="col" className="wide-only">
                Pump flow <span className="unit">L/min</span>
              </th>
              <th scope="col" className="num">
                Time <span className="unit">% of running</span>
              </th>
              <th scope="col" className="num">
                Shaft energy <span className="unit">kWh</span>
              </th>
              <th scope="col" className="num">
                Efficiency <span className="unit">%, ± 95 %</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {efficiencyPlane.map((field) => (
              <tr key={`${field.fromBar} ${field.fromLpm}`}>
                <th scope="row">
                  {range(field.fromBar, field.toBar)}
                  <span className="phone-only">{range(field.fromLpm, field.toLpm)}</span>
                </th>
                <td className="wide-only">{range(field.fromLpm, field.toLpm)}</td>
                <td className="num">{percent(field.hours / whole).replace(' %', '')}</td>
                <td className="num">{number(field.shaftKWh)}</td>
                <EstimateCell estimate={field.efficiency} scale={PER_CENT} />
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </div>
  )
}
