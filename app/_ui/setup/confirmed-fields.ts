import { CONFIRMED_ANCHOR } from './confirmed-words'
import type { FieldGroup } from './fields'

/** What a person knows of the machine that no log shows; all of it or nothing. */
export const CONFIRMED_GROUP: FieldGroup = {
  id: CONFIRMED_ANCHOR,
  title: 'Confirmed before a pressure is lowered',
  about:
    'One log does not show every load. Whoever knows the machine says here what it needs in a cold start, a jam or with the largest tool; a load above the logged ones raises the least setting that is proposed. It takes the place of no safety assessment. Leave all of it empty until somebody has looked.',
  fields: [
    {
      path: 'confirmed.highestLoadBar',
      label: 'Highest load',
      unit: 'bar',
      help: 'Highest pressure that any load asks for: cold start, jam, largest tool.',
      optional: true,
    },
    {
      path: 'confirmed.by',
      label: 'Confirmed by',
      unit: '',
      help: 'Who knows the machine and has looked.',
      optional: true,
      isText: true,
    },
    {
      path: 'confirmed.on',
      label: 'Confirmed on',
      unit: '',
      help: 'The day, as in 2026-03-31.',
      optional: true,
      isText: true,
    },
    {
      path: 'confirmed.note',
      label: 'Note',
      unit: '',
      help: 'What the word rests on: drawing, measurement, who was asked.',
      optional: true,
      isText: true,
    },
  ],
}

/** What cools this machine's oil, where it is not as on the rest of the site. */
export const COOLING_GROUP: FieldGroup = {
  title: 'Oil cooling',
  about: 'Where this machine’s oil is cooled otherwise than the Site page says.',
  fields: [
    {
      path: 'cooling.electricPerHeat',
      label: 'Electricity of cooling',
      unit: 'kW/kW',
      help: 'What chiller or fans take for each kW of heat that they take out of the oil; 0 where water or bare air cools it. Left out, as the site says.',
      optional: true,
    },
  ],
}
