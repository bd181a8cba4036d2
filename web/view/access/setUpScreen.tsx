import { accessRequests } from '../../connect/accessRequests.ts'
import { person } from '../../connect/person.ts'
import { address } from '../screens.ts'
import { AskForm, NameField, NewPasswordField } from './askForm.tsx'

/** Makes the first administrator, or lets one in again who cannot get in otherwise. */
export function SetUpScreen() {
  return (
    <div class="screen access" data-screen="set-up">
      <h1>Set up</h1>
      <p>
        The server wrote a set-up code on its console. Whoever can read that may make an administrator here,
        once.
        {person.value?.hasUsers && ' An old code is used up; the option --new-setup-code makes a new one.'}
      </p>
      <AskForm
        id="setUp"
        title="Administrator"
        deed="Make the administrator"
        ask={({ code, name, password }) =>
          accessRequests.setUp({ code: code!, name: name!, password: password! })
        }
        onDone={() => {
          location.hash = address({ screen: 'people' })
        }}
      >
        <NameField label="Set-up code" name="code" />
        <NameField
          label="Your name"
          name="name"
          autocomplete="username"
          hint="As journal and audit shall show it."
        />
        <NewPasswordField />
      </AskForm>
    </div>
  )
}
