import { describe, expect, it } from 'vitest'
import { toSi } from '@/lib/units'
import { MACHINE, problem, readText, valuesOf } from './log-text'

/** A deterministic trace: half the time dead-headed, half moving. */
function table(headers: readonly string[], make: (i: number) => readonly (number | string)[]): string {
  const rows = Array.from({ length: 60 }, (_, i) => `${i};${make(i).join(';')}`)
  return `t [s];${headers.join(';')}\n${rows.join('\n')}\n`
}

async function understood(header: string, values: (i: number) => number | string = (i) => 100 + (i % 7) / 2) {
  const log = await readText(table([header, 'Motor current [A]'], (i) => [values(i), 20.5]))
  const channel = log.trace.channels.find((c) => c.column === header)
  return channel === undefined ? null : `${channel.quantity} ${channel.location} ${channel.unit}`
}

describe('header words and units (common practice of the trade, no source)', () => {
  const cases: readonly (readonly [string, string | null])[] = [
    ['P pump (bar)', 'pressure pump-outlet bar'],
    ['p_pump_bar', 'pressure pump-outlet bar'],
    ['PumpPressure_bar', 'pressure pump-outlet bar'],
    ['Pump pressure / bar', 'pressure pump-outlet bar'],
    ['System pressure in bar', 'pressure pump-outlet bar'],
    ['Pumpendruck [bar]', 'pressure pump-outlet bar'],
    ['Systemdruck (bar)', 'pressure pump-outlet bar'],
    ['Pression pompe [bar]', 'pressure pump-outlet bar'],
    ['Presión bomba [bar]', 'pressure pump-outlet bar'],
    ['Pressione pompa [bar]', 'pressure pump-outlet bar'],
    ['Load pressure [psi]', 'pressure load psi'],
    ['Cylinder pressure PSIG', 'pressure load psi'],
    ['Zylinderdruck [bar]', 'pressure load bar'],
    ['Lastdruck [bar]', 'pressure load bar'],
    ['Pression vérin [bar]', 'pressure load bar'],
    ['Presión cilindro [bar]', 'pressure load bar'],
    ['Pressione cilindro [MPa]', 'pressure load MPa'],
    ['Tank pressure [kPa]', 'pressure tank-line kPa'],
    ['Rücklaufdruck [bar]', 'pressure tank-line bar'],
    ['Pump flow [L/min]', 'flow pump-outlet L/min'],
    ['Pump flow (lpm)', 'flow pump-outlet L/min'],
    ['Pump flow LPM', 'flow pump-outlet L/min'],
    ['Förderstrom Pumpe [Liter/min]', 'flow pump-outlet L/min'],
    ['Pumpenförderstrom [l/min]', 'flow pump-outlet L/min'],
    ['Débit pompe [l/mn]', 'flow pump-outlet L/min'],
    ['Caudal bomba [l/min]', 'flow pump-outlet L/min'],
    ['Portata pompa [l/min]', 'flow pump-outlet L/min'],
    ['Line flow (GPM)', 'flow system-line gpm'],
    ['Volumenstrom Anlage [m3/h]', 'flow system-line m³/h'],
    ['Débit circuit [m³/h]', 'flow system-line m³/h'],
    ['Caudal línea [l/min]', 'flow system-line L/min'],
    ['Portata linea [l/min]', 'flow system-line L/min'],
    ['Relief flow [L/min]', 'flow relief-return L/min'],
    ['Tank return [L/min]', 'flow relief-return L/min'],
    ['Rücklaufmenge [l/min]', 'flow relief-return L/min'],
    ['Rücklauf DBV [l/min]', 'flow relief-return L/min'],
    ['Débit retour [l/min]', 'flow relief-return L/min'],
    ['Caudal retorno [l/min]', 'flow relief-return L/min'],
    ['Portata ritorno [l/min]', 'flow relief-return L/min'],
    ['Case drain [L/min]', 'flow case-drain L/min'],
    ['Leckölstrom [l/min]', 'flow case-drain L/min'],
    ['Motor current [Amps]', 'current motor-supply A'],
    ['Strom (A)', 'current motor-supply A'],
    ['Courant moteur [A]', 'current motor-supply A'],
    ['Corriente motor [A]', 'current motor-supply A'],
    ['Corrente motore [A]', 'current motor-supply A'],
    ['I [A]', 'current motor-supply A'],
    ['Motor power [kW]', 'power motor-supply kW'],
    ['Wirkleistung [W]', 'power motor-supply W'],
    ['Puissance [kW]', 'power motor-supply kW'],
    ['Potencia activa [kW]', 'power motor-supply kW'],
    ['Potenza [HP]', 'power motor-supply hp'],
    ['Spannung [V]', 'voltage motor-supply V'],
    ['Tension [V]', 'voltage motor-supply V'],
    ['Drehzahl [U/min]', 'speed motor-shaft rpm'],
    ['Vitesse [tr/min]', 'speed motor-shaft rpm'],
    ['Speed [1/min]', 'speed motor-shaft rpm'],
    ['Öltemperatur [°C]', 'temperature oil °C'],
    ['Oil temp [degF]', 'temperature oil °F'],
    ['Température huile [°C]', 'temperature oil °C'],
    ['Discharge pressure [bar]', 'pressure pump-outlet bar'],
    ['Presión del sistema [bar]', 'pressure pump-outlet bar'],
    ['Presión tanque [bar]', 'pressure tank-line bar'],
    ['Back pressure [bar]', 'pressure tank-line bar'],
    ['Contropressione [bar]', 'pressure tank-line bar'],
    ['Druck A [bar]', 'pressure load bar'],
    ['Druck Stangenseite [bar]', 'pressure load bar'],
    ['Pressione lato stelo [bar]', 'pressure load bar'],
    ['Portata trafilamento [l/min]', 'flow case-drain L/min'],
    ['kW', 'power motor-supply kW'],
    ['Pump running', null],
    ['Efficiency [%]', null],
    ['Tank level [%]', null],
    ['Energy [kWh]', null],
    ['Reactive power [kvar]', null],
    ['Pressure setpoint [bar]', null],
    ['Air pressure [bar]', null],
    ['Stroke [mm]', null],
  ]
  it.each(cases)('%s → %s', async (header, expected) => {
    const unchanged = header === 'Motor current [Amps]' || expected?.startsWith('current') === true
    if (!unchanged) {
      expect(await understood(header)).toBe(expected)
      return
    }
    const log = await readText(table([header, 'Pump pressure [bar]'], (i) => [20 + (i % 3), 100]))
    const channel = log.trace.channels.find((c) => c.column === header)
    expect(channel && `${channel.quantity} ${channel.location} ${channel.unit}`).toBe(expected)
  })
  it('reads power factor and switches', async () => {
    expect(await understood('cos φ', (i) => 0.8 + (i % 10) / 100)).toBe('power-factor motor-supply 1')
    expect(await understood('Leistungsfaktor', (i) => 0.8 + (i % 10) / 100)).toBe(
      'power-factor motor-supply 1',
    )
    expect(await understood('Cycle active', (i) => (i % 20 < 10 ? 'on' : 'off'))).toBe(
      'signal cycle-active 1',
    )
    expect(await understood('Solenoid Y1', (i) => (i % 20 < 10 ? 1 : 0))).toBe('signal solenoid 1')
    expect(await understood('Leerlauf', (i) => (i % 20 < 10 ? 'ein' : 'aus'))).toBe('signal idle 1')
    expect(await understood('Valve Y1', (i) => (i % 20 < 10 ? 1 : 0))).toBe('signal solenoid 1')
    expect(await understood('Cycle count', (i) => i)).toBeNull()
    for (const name of [
      'Zyklus aktiv',
      'Cycle en cours',
      'Ciclo activo',
      'Ciclo in corso',
      'Cycle active [-]',
    ])
      expect(await understood(name, (i) => (i % 20 < 10 ? 1 : 0))).toBe('signal cycle-active 1')
    for (const name of ['Ralenti', 'Reposo', 'Riposo', 'Standby'])
      expect(await understood(name, (i) => (i % 20 < 10 ? 1 : 0))).toBe('signal idle 1')
    expect(await understood('Y1', (i) => (i % 20 < 10 ? 1 : 0))).toBe('signal solenoid 1')
    expect(await understood('Motor running', (i) => (i % 20 < 10 ? 1 : 0))).toBeNull()
  })
})

describe('what the header leaves open is told from the data and said', () => {
  it('a switch that does not say what it means', async () => {
    const log = await readText(table(['DI1', 'Pump pressure [bar]'], (i) => [i % 20 < 10 ? 1 : 0, 100]))
    expect(problem(log, 'assumed-location', 'DI1')?.values).toEqual({
      assumed: 'cycle-active',
      other: 'idle',
    })
  })
  const pressure = (i: number): number => (i % 20 < 10 ? 160 : 80) + (i % 3) / 10
  it('a meter that reads nothing under pressure sits behind the relief', async () => {
    const log = await readText(
      table(['P1 [bar]', 'Q1 [l/min]', 'I [A]'], (i) => [pressure(i), i % 20 < 10 ? 0.1 : 80, 30]),
    )
    expect(log.trace.channels[1].location).toBe('system-line')
    expect(problem(log, 'assumed-location', 'Q1 [l/min]')?.values).toEqual({
      assumed: 'system-line',
      other: 'pump-outlet',
    })
  })
  it('a meter that reads nothing while the motor turns sits behind the relief', async () => {
    const vented = (i: number): number => (i % 20 < 10 ? 3 : 80)
    const log = await readText(
      table(['P1 [bar]', 'Q1 [l/min]', 'I [A]'], (i) => [
        vented(i),
        i % 20 < 10 ? 0.1 : 80,
        i % 20 < 10 ? 14 : 30,
      ]),
    )
    expect(log.trace.channels[1].location).toBe('system-line')
  })
  it('a meter that never stops under pressure sits at the pump', async () => {
    const log = await readText(
      table(['P1 [bar]', 'Q1 [l/min]', 'I [A]'], (i) => [pressure(i), i % 20 < 10 ? 82 : 85, 30]),
    )
    expect(log.trace.channels[1].location).toBe('pump-outlet')
  })
  it('takes the higher of two pressures for the pump', async () => {
    const log = await readText(
      table(['P1 [bar]', 'P2 [bar]', 'I [A]'], (i) => [pressure(i) / 2, pressure(i), 30]),
    )
    expect(log.trace.channels.map((c) => c.location)).toEqual(['load', 'pump-outlet', 'motor-supply'])
  })
  it('tells the unit from the nameplate', async () => {
    const log = await readText(
      table(['Pump pressure', 'Pump flow', 'Power'], (i) => [2320 + i, 23, 21_000 + i]),
      { machine: MACHINE },
    )
    expect(log.trace.channels.map((c) => c.unit)).toEqual(['psi', 'gpm', 'W'])
    expect(problem(log, 'assumed-unit', 'Pump pressure')?.values.assumed).toBe('psi')
    expect(valuesOf(log, 'Pump pressure')[0]).toBe(toSi(2320, 'psi'))
  })
  it('takes gpm for US gallons and says so', async () => {
    const log = await readText(table(['Pump flow [gpm]', 'Pump pressure [psi]'], () => [20, 2500]))
    expect(valuesOf(log, 'Pump flow [gpm]')[0]).toBeCloseTo((20 * 3.785411784e-3) / 60, 12)
    expect(problem(log, 'assumed-us-gallons', 'Pump flow [gpm]')).toBeDefined()
  })
  it('says by which ratio a clamp would fit', async () => {
    // 60 cm³ at 1470 rpm and 150 bar give 22 kW of oil: a motor of 22 kW and 40.2 A is near its rated current there.
    const read = (amps: (i: number) => number) =>
      readText(
        table(['Pump pressure [bar]', 'Motor current [A]'], (i) => [i % 2 ? 150 : 20, amps(i)]),
        {
          machine: MACHINE,
        },
      )
    const high = (i: number): number => (i % 2 ? 40 : 20)
    expect(problem(await read(high), 'implausible-range')).toBeUndefined()
    const tenth = problem(await read((i) => high(i) / 10), 'implausible-range')
    expect(tenth).toMatchObject({ column: 'Motor current [A]', values: { high: 4, ratio: '10' } })
    const tenfold = problem(await read((i) => high(i) * 10), 'implausible-range')
    expect(tenfold).toMatchObject({ column: 'Motor current [A]', values: { high: 400, ratio: '1/10' } })
  })
  it('says what the pump pressure reads while the motor stands', async () => {
    const read = (zero: number) =>
      readText(
        table(['Pump pressure [bar]', 'Motor current [A]'], (i) =>
          i < 30 ? [zero, 0.1] : [120, 30 + (i % 3)],
        ),
        { machine: MACHINE },
      )
    expect(problem(await read(5), 'pressure-off-zero-at-rest')).toMatchObject({
      values: { reading: 5, unit: 'bar' },
    })
    for (const fine of [0.8, -0.5]) {
      expect(problem(await read(fine), 'pressure-off-zero-at-rest')).toBeUndefined()
    }
  })
  it('says where a channel lies far from the nameplate', async () => {
    const text = table(['Pump pressure [bar]', 'Motor current [A]'], (i) => [2320 + i, 30])
    const log = await readText(text, { machine: MACHINE })
    expect(problem(log, 'implausible-range')).toMatchObject({
      column: 'Pump pressure [bar]',
      count: 60,
      values: { nameplate: 160, unit: 'bar', share: 1 },
    })
    expect(problem(await readText(text), 'implausible-range')).toBeUndefined()
  })
  it('uses one of three phases and names the others', async () => {
    const log = await readText(
      table(['I L1 [A]', 'I L2 [A]', 'I L3 [A]', 'Pump pressure [bar]'], () => [20, 21, 22, 100]),
    )
    expect(log.report.unusedColumns).toEqual(['I L2 [A]', 'I L3 [A]'])
    expect(problem(log, 'extra-phase-unused', 'I L2 [A]')?.values.used).toBe('I L1 [A]')
  })
  it('says where name and unit disagree', async () => {
    const log = await readText(table(['Pump pressure [A]', 'P1 [bar]'], () => [20, 100]))
    expect(problem(log, 'assumed-quantity', 'Pump pressure [A]')?.values).toEqual({
      assumed: 'current',
      other: 'pressure',
    })
  })
  it('reports a unit outside the contract by a scale that reads the file again', async () => {
    const text = table(['Pump flow [l/s]', 'Pump pressure [mbar]'], () => [1.5, 160_000])
    const log = await readText(text)
    expect(valuesOf(log, 'Pump flow [l/s]')[0]).toBeCloseTo(1.5e-3, 15)
    expect(valuesOf(log, 'Pump pressure [mbar]')[0]).toBeCloseTo(160e5, 6)
    const again = await readText(text, { machine: { ...MACHINE, channels: [...log.report.channels] } })
    again.trace.channels.forEach((channel, c) => {
      expect(channel.values[0]).toBeCloseTo(log.trace.channels[c].values[0], 6)
    })
  })
  it('does not take a raw signal for a pressure', async () => {
    const log = await readText(table(['Pump pressure [mA]', 'Motor current [A]'], () => [12, 20]))
    expect(log.report.unusedColumns).toEqual(['Pump pressure [mA]'])
    expect(problem(log, 'raw-signal-needs-scale', 'Pump pressure [mA]')).toBeDefined()
  })
  it('finds nameless columns by the nameplate', async () => {
    const rows = Array.from(
      { length: 60 },
      (_, i) =>
        `2026-03-02 06:00:${String(i).padStart(2, '0')};${pressure(i)};${i % 20 < 10 ? 0 : 84};${38 + (i % 3)}`,
    )
    const log = await readText(`${rows.join('\n')}\n`, { machine: MACHINE })
    expect(log.trace.channels.map((c) => [c.column, c.quantity])).toEqual([
      ['Column 2', 'pressure'],
      ['Column 3', 'flow'],
      ['Column 4', 'current'],
    ])
    expect(problem(log, 'assumed-quantity', 'Column 2')).toBeDefined()
    expect(log.report.rowsRead).toBe(60)
  })
})

describe('declared channels', () => {
  const text = table(['  P1 [bar] ', 'S2 [mA]', 'I'], (i) => [100 + (i % 3), 4 + (i % 17), 20])
  it('are used exactly, scaled, and leave the rest alone', async () => {
    const machine = {
      ...MACHINE,
      channels: [
        {
          column: 'P1 [bar]',
          quantity: 'pressure' as const,
          location: 'pump-outlet' as const,
          unit: 'bar' as const,
          accuracy: { percentOfFullScale: 0.5, fullScale: 250 },
        },
        {
          column: 'S2 [mA]',
          quantity: 'pressure' as const,
          location: 'load' as const,
          unit: 'bar' as const,
          scale: { from: [4, 20] as [number, number], to: [0, 250] as [number, number] },
        },
      ],
    }
    const log = await readText(text, { machine })
    expect(log.report.channels).toEqual(machine.channels)
    expect(log.report.unusedColumns).toEqual(['I'])
    expect(valuesOf(log, 'S2 [mA]')[8]).toBeCloseTo(toSi(125, 'bar'), 6)
    expect(log.trace.channels[0].accuracy).toEqual({ percentOfFullScale: 0.5, fullScale: 250 })
    expect(log.report.problems).toEqual([])
  })
  it('may leave place and unit to the file', async () => {
    const machine = {
      ...MACHINE,
      channels: [
        { column: 'p1 [BAR]', quantity: 'pressure' as const },
        { column: 'I', quantity: 'current' as const },
      ],
    }
    const log = await readText(text, { machine })
    expect(log.trace.channels.map((c) => [c.column, c.location, c.unit])).toEqual([
      ['P1 [bar]', 'pump-outlet', 'bar'],
      ['I', 'motor-supply', 'A'],
    ])
  })
  it('are found where the file keeps its units in a row of their own', async () => {
    const rows = Array.from({ length: 20 }, (_, i) => `${i};${100 + i};20`).join('\n')
    const channels = [{ column: 'P pump [bar]', quantity: 'pressure' as const, unit: 'bar' as const }]
    const log = await readText(`t;P pump;I\ns;bar;A\n${rows}\n`, { machine: { ...MACHINE, channels } })
    expect(log.trace.channels.map((c) => c.column)).toEqual(['P pump'])
  })
  it('win over the header and say so', async () => {
    const machine = {
      ...MACHINE,
      channels: [{ column: 'P1 [bar]', quantity: 'pressure' as const, unit: 'psi' as const }],
    }
    const log = await readText(text, { machine })
    expect(valuesOf(log, 'P1 [bar]')[0]).toBe(toSi(100, 'psi'))
    expect(problem(log, 'unit-differs-from-header')).toMatchObject({
      column: 'P1 [bar]',
      values: { declared: 'psi' },
    })
  })
})
