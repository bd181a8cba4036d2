import { expect, it } from 'vitest'
import { describeNotify } from '../../../../server/alarms/notify/notifyFile.ts'
import { notifyFileSchema } from '../../../../server/alarms/notify/settings.ts'

const settings = notifyFileSchema.parse({
  headraceNotify: 1,
  timeZone: 'UTC',
  channels: [
    { id: 'ops-hook', kind: 'webhook', url: 'https://example.org/alarms' },
    { id: 'mail', kind: 'email', host: 'mail.example.org', from: 'a@example.org', user: 'a' },
    { id: 'open', kind: 'email', host: 'mail.example.org', from: 'a@example.org' },
    { id: 'bus', kind: 'mqtt' },
  ],
})

it('the check of a notification file names the secrets that are missing, and where they belong', () => {
  const lines = describeNotify('notify.yaml', settings, (id) => (id === 'mail' ? 'x' : undefined)).split('\n')
  expect(lines[0]).toMatch(
    /^notify\.yaml: missing: the secret of channel "ops-hook": .*HEADRACE_NOTIFY_SECRET_OPS_HOOK, or as "ops-hook: …"/,
  )
  expect(lines[1]).toMatch(/^notify\.yaml: in order but for secrets/)
  expect(describeNotify('notify.yaml', settings, () => 'x')).toMatch(/^notify\.yaml: in order\. /)
})
