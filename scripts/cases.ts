// `npm run cases`: makes every case of test/cases anew and says which differ from what is kept, writing *-changed beside it.
// `npm run cases -- --accept`: takes what is made as what is expected. Both take names of cases to do only these.
import { acceptCase, caseNames, judgeCase, makeCase } from '../test/cases/case.ts';

const words = process.argv.slice(2);
const accept = words.includes('--accept');
const wanted = words.filter((w) => w !== '--accept');
const known = caseNames();
const unknown = wanted.filter((w) => !known.includes(w));
if (unknown.length) {
  console.error(`There is no case ${unknown.join(', ')}: there are ${known.join(', ')}.`);
  process.exit(2);
}
let different = 0;
for (const name of wanted.length ? wanted : known) {
  const made = await makeCase(name).catch((e: Error) => e.message);
  const faults = typeof made === 'string' ? [made] : await judgeCase(name, made);
  if (faults.length) different++;
  const taken = accept && faults.length && typeof made !== 'string';
  if (taken) await acceptCase(name, made);
  console.log(`${name}: ${faults.length ? `${faults.join('; ')}${taken ? ' (accepted)' : ''}` : 'as expected'}`);
}
if (different && !accept) {
  console.log('Look at the *-changed files; where they are right: npm run cases -- --accept');
  process.exitCode = 1;
}
