import { alarmKinds } from '../alarms/kinds/index.ts'
import { channelFields } from '../alarms/notify/channels/index.ts'
import { counterKinds } from '../derive/counterKinds.ts'
import { quantities } from '../derive/quantities/index.ts'
import type { Way } from '../derive/quantity.ts'
import { optionRows } from '../options.ts'
import { constantPaths, constantUnit } from '../plant/constants.ts'
import { exampleOfRole } from '../plant/nearRoles.ts'
import { roles } from '../plant/roles.ts'
import { spellings } from '../plant/unitNames.ts'
import type { Reference, ReferenceTable } from '../wire/reference.ts'
import { allUnits, isConvertible, printUnit } from '../wire/units.ts'
import { PAYLOADS } from './payloads.ts'

/** The reference as tables, made of the tables that the server itself works with, so that it cannot be out of date. */
export function reference(): Reference {
  return {
    tables: [
      roleTable(),
      unitTable(),
      constantTable(),
      PAYLOADS,
      figureTable(),
      counterTable(),
      alarmTable(),
      channelTable(),
      optionTable(),
    ],
  }
}

function roleTable(): ReferenceTable {
  return {
    id: 'roles',
    title: 'Roles of instruments',
    says: 'What an instrument can measure: its role. Where there may be several of it they are numbered, .1, .2 … A contact is 1 or 0.',
    heads: ['Role', 'What it is', 'Symbol', 'Read in', 'Kind'],
    rows: roles.map((role) => [
      exampleOfRole(role),
      role.name,
      role.symbol,
      role.discrete ? '' : printUnit(role.view) || 'share of 1',
      [
        role.discrete ? 'contact' : role.counter ? 'meter that counts up' : 'amount',
        role.isOneWhen === undefined ? '' : `${role.isOneWhen} is 1`,
      ]
        .filter((part) => part !== '')
        .join(', '),
    ]),
  }
}

function unitTable(): ReferenceTable {
  const firsts = allUnits.filter((unit, i) => allUnits.findIndex((other) => isConvertible(other, unit)) === i)
  const alsoOf = (code: string) => Object.keys(spellings).filter((text) => spellings[text] === code)
  return {
    id: 'units',
    title: 'Units',
    says: 'UCUM codes, one line for each kind of amount. In brackets what is taken for the same; a printed form such as m³/s is taken too.',
    heads: ['Unit of SI', 'Units that may be written'],
    rows: firsts.map((first) => [
      first.code,
      allUnits
        .filter((unit) => isConvertible(unit, first))
        .map(({ code, print }) => {
          const also = [...new Set([print === code ? '' : print, ...alsoOf(code)])].filter(
            (text) => text !== '',
          )
          return also.length === 0 ? code : `${code} (${also.join(', ')})`
        })
        .join('; '),
    ]),
  }
}

function constantTable(): ReferenceTable {
  return {
    id: 'constants',
    title: 'Amounts of the sections site to licence',
    says: 'Every number that a plant file may give of the plant, by section and key, in any unit like the one named. Formulas and alarms may use them by this path.',
    heads: ['Path', 'In a unit like'],
    rows: constantPaths.map((path) => [
      path,
      constantUnit(path) === '1' ? 'a plain number or %' : constantUnit(path),
    ]),
  }
}

function figureTable(): ReferenceTable {
  return {
    id: 'figures',
    title: 'Figures that are computed',
    says: 'In the order of the ways: the first that a plant has all instruments and constants for is used. A plant shows on its page what it lacks for the others.',
    heads: ['Figure', 'What it is', 'Read in', 'Formula', 'With', 'Source'],
    rows: quantities.flatMap(({ id, name, unit, view = unit, ways }) =>
      ways.map((way, i) => [
        i === 0 ? id : `${id} (way ${i + 1})`,
        name,
        printUnit(view) || 'share of 1',
        way.formula,
        symbolsOf(way),
        [way.source, way.estimated === undefined ? '' : `estimated: ${way.estimated}`]
          .filter(Boolean)
          .join('; '),
      ]),
    ),
  }
}

function symbolsOf({ inputs, constants = {}, curves = {} }: Way): string {
  return Object.entries({ ...inputs, ...constants, ...curves })
    .map(([symbol, path]) => `${symbol} = ${path}`)
    .join(', ')
}

function counterTable(): ReferenceTable {
  return {
    id: 'counters',
    title: 'Counters',
    says: 'Counted by local day. An alarm of the kind counter looks at today.',
    heads: ['Counter', 'What it is', 'Unit of SI', 'Needs', 'Meter that is believed over it'],
    rows: counterKinds.map(({ id, name, unit, figures, counting }) => [
      id,
      name,
      unit === '1' ? 'number' : unit,
      figures.join(', '),
      counting.by === 'integral' && counting.meter ? counting.meter.role : '',
    ]),
  }
}

function alarmTable(): ReferenceTable {
  return {
    id: 'alarms',
    title: 'Kinds of alarms',
    says: 'Fields of every kind: id, name, entry, kind, priority, while, onDelay, offDelay, latching, group, shelf, record, cause, consequence, action. A limit is an amount with its unit, or "110 % of rated".',
    heads: ['Kind', 'Needs', 'May have', 'Remark'],
    rows: alarmKinds.map(({ id, needs, may, isForSafety, lossOf }) => [
      id,
      needs.join(', '),
      may.join(', '),
      [
        isForSafety ? 'never delayed, never shelved, always recorded' : '',
        lossOf === undefined
          ? ''
          : `tells of the loss of ${lossOf === 'figure' ? 'its figure' : 'the whole plant'}`,
      ]
        .filter((part) => part !== '')
        .join('; '),
    ]),
  }
}

function channelTable(): ReferenceTable {
  return {
    id: 'channels',
    title: 'Channels of the notification file',
    says: 'Passwords and keys are not in the file: they come from the environment, as HEADRACE_NOTIFY_SECRET_MAIL for the channel mail, or from --notify-secrets.',
    heads: ['Kind', 'Fields'],
    rows: channelFields.options.map(({ shape: { kind, ...fields } }) => [
      String([...kind.values][0]),
      Object.entries(fields)
        .map(([key, field]) => (field.safeParse(undefined).success ? `${key} (may be left out)` : key))
        .join(', '),
    ]),
  }
}

function optionTable(): ReferenceTable {
  return {
    id: 'options',
    title: 'Options',
    says: 'Each can also be set in the environment (--http-port as HEADRACE_HTTP_PORT) or in an options file.',
    heads: ['Option', 'What it does', 'Default'],
    rows: optionRows.map(({ flag, takes, help, fallback }) => [
      takes === undefined ? `--${flag}` : `--${flag} ${takes}`,
      help,
      fallback ?? '',
    ]),
  }
}
