/** The demo building's project file as text: one with faults in it, so that there is something to find. */
import text from '../../fixtures/bad/canal-house-with-faults.json?raw'

export default text
