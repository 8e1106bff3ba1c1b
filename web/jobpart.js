// Everything of a job, loaded in one go after the first quick answer, or when a
// job is opened: a phone that asks one question does not wait for it.

import { finishScreen } from './screens/finish.js';
import { jobsScreen } from './screens/jobs.js';
import { layoutScreen } from './screens/layout.js';
import { printScreen } from './screens/print.js';
import { sawScreen } from './screens/saw.js';
import { shareScreen } from './screens/share.js';
import { surveyScreen } from './screens/survey.js';
import { takeOffScreen } from './screens/takeoff.js';

export { loadJobs, openJob, openLink, settle, undoJob } from './jobs.js';
export { waiting } from './records.js';
export { midway } from './screens/saw.js';
export { sheet, sheetKeydown } from './screens/sheets.js';
export { openShare } from './screens/share.js';
export { jobPad } from './screens/sheets.js';
export { watchLaptop } from './sync.js';

export const SCREENS = {
  jobs: jobsScreen, survey: surveyScreen, layout: layoutScreen, saw: sawScreen, share: shareScreen,
  'take-off': takeOffScreen, finish: finishScreen, print: printScreen,
};
