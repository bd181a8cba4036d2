import type { ReferenceTable } from '../wire/reference.ts'

export const PAYLOADS: ReferenceTable = {
  id: 'payloads',
  title: 'Payloads',
  says: 'How a message carries its value: the field payload of an instrument.',
  heads: ['Payload', 'A message', 'Fields'],
  rows: [
    [
      'number',
      '4.8 · "4.8" · ON · closed',
      'none: the whole message is one decimal number, or the word of a contact (on, off, true, false, open, closed)',
    ],
    [
      'format: json',
      '{"p":{"bar":4.8},"at":1764266400000}',
      'value, time, peak, unit: JSON pointers (RFC 6901), "" being the whole document; timeUnit: s, ms, us, ns, iso. A value may be a number, a number as text, the word of a contact, an array of samples or of [time, number] pairs',
    ],
    [
      'format: lineProtocol',
      'meter,at=gate power=4.8 1764266400000000000',
      'measurement, field, tags, timeUnit: s, ms, us, ns',
    ],
  ],
}
