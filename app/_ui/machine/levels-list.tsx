import Link from 'next/link'
import { levels as LEVEL_WORDS } from '@/app/_words/en/names'
import { LEVEL_NAMES, type LevelName } from '@/lib/contract/levels'
import type { Result } from '@/lib/contract/result'
import { FOUND_FROM, foundText, givenText } from '../level-text'
import { Scroll } from '../scroll'
import { LEVELS_ANCHOR } from '../setup/level-fields'

/** The levels that tell this log's phases apart: found in it, or given by a person, who can correct each. */
export function LevelsList({
  result,
  machineId,
  logId,
}: {
  result: Result
  machineId: string
  logId: string
}) {
  const { levels } = result
  const there = LEVEL_NAMES.filter((name) => levels[name].found !== null || levels[name].given !== null)
  const telling = there.filter((name) => levels[name].decides)
  const silent = there.filter((name) => !levels[name].decides)
  return (
    <>
      <p className="reading soft">
        Found in the log itself; nobody has to enter one. Where one is wrong,{' '}
        <Link href={`/machines/${machineId}/setup?log=${logId}#${LEVELS_ANCHOR}`}>
          correct it in the set-up
        </Link>
        : all logs of the machine are analysed again with it, and emptied it is found again.
      </p>
      <Scroll label="Levels of this log">
        <table className="levels">
          <caption>Levels that tell the phases of this log apart</caption>
          <thead>
            <tr>
              <th scope="col">Level</th>
              <th scope="col" className="num">
                Value
              </th>
              <th scope="col">From</th>
            </tr>
          </thead>
          <tbody>
            {telling.map((name) => (
              <tr key={name}>
                <th scope="row">{LEVEL_WORDS[name]}</th>
                <td className="num">{textOf(result, name)}</td>
                <td>{sourceOf(result, name)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {silent.length ? (
        <p className="small soft">
          Without a say in this log, whose sensors tell otherwise:{' '}
          {silent.map((name) => `${LEVEL_WORDS[name].toLowerCase()} (${textOf(result, name)})`).join('; ')}.
        </p>
      ) : null}
    </>
  )
}

function textOf({ levels, log }: Result, name: LevelName): string {
  const { given, found } = levels[name]
  return given === null ? foundText(name, found ?? Number.NaN, log.channels) : givenText(name, given)
}

function sourceOf({ levels, log }: Result, name: LevelName) {
  const { given, found, foundFrom } = levels[name]
  if (given === null) return FOUND_FROM[foundFrom]
  return (
    <>
      <span className="tag good">entered by a person</span>
      <span className="how">
        {found === null
          ? 'this log has no such level'
          : `without it ${foundText(name, found, log.channels)}, ${FOUND_FROM[foundFrom]}`}
      </span>
    </>
  )
}
