import { expect, it } from 'vitest'
import type { Inspection, Question, SurveyAnswer } from '@/app/_server/inspection-shapes'
import { askerOf, peersOf } from '@/app/_ui/upload/peers'
import { newUpload, type Stage, type Upload } from '@/app/_ui/upload/upload-state'

const survey = (delimiter: string): SurveyAnswer => ({
  layout: { delimiter, header: ['T', 'P'], units: [null, null], kinds: ['time', 'number'] },
  columns: [],
  reading: null,
})

function upload(name: string, stage: Stage, asked: Question['id'][], delimiter = ';', machine = 'm'): Upload {
  const questions = asked.map((id) => ({ id, example: null, column: null, line: null, choices: [] }))
  const shown = survey(delimiter)
  const inspection = stage === 'refused' ? null : ({ ...shown, questions } as unknown as Inspection)
  return { ...newUpload(new File(['x'], name), machine), stage, survey: shown, inspection }
}

const first = upload('first', 'inspected', [])
const second = upload('second', 'inspected', ['dayOrder', 'startedAt'])
const third = upload('third', 'inspected', ['dayOrder', 'startedAt'])
const gone = upload('gone', 'done', ['dayOrder'])
const other = upload('other', 'inspected', ['dayOrder'], ',')
const elsewhere = upload('elsewhere', 'inspected', ['dayOrder'], ';', 'another')
const all = [gone, elsewhere, other, first, second, third]

it('are the files of one layout and machine that still wait', () => {
  expect(peersOf(all, third)).toEqual([first, second, third])
  expect(peersOf(all, newUpload(new File(['x'], 'new'), 'm'))).toEqual([])
})

it('have one that asks for all: the first that has the question', () => {
  expect(askerOf(all, third, 'dayOrder')).toBe(second)
  expect(askerOf(all, first, 'dayOrder')).toBe(second)
  expect(askerOf(all, other, 'dayOrder')).toBe(other)
})

it('ask each for its own start, and show the columns once', () => {
  expect(askerOf(all, third, 'startedAt')).toBe(third)
  expect(askerOf(all, third, 'columns')).toBe(first)
  expect(askerOf([upload('refused', 'refused', []), third], third, 'columns').file.name).toBe('refused')
})
