// Judges a Data Package by `datapackage` and `tableschema` (npm; frictionlessdata's own readers of version 1 of the standard,
// datapackage.org): the descriptor, every cell of every row by its Table Schema, primary keys, foreign keys.
//
// usage: node judge_package.js MODULES DATA [plant]
//   MODULES  the folder that npm installed into      DATA  the folder of datapackage.json
//   plant    also plants faults in copies of DATA, one at a time, made from what the descriptor declares: the readers must
//            refuse each by the name of its column or key.
//
// What these readers do not judge, so that nobody leans on it: `uniqueKeys` (new in version 2), `bytes` and `hash`, and the ends
// of a `pattern` (it may match in the middle of a cell). check_bag.py judges those.
'use strict';
const fs = require('fs');
const os = require('os');
const path = require('path');
const { createRequire } = require('module');

const [modules, data, plant] = process.argv.slice(2);
const { Package } = createRequire(path.resolve(modules, 'package.json'))('datapackage');

const listOf = (one) => [].concat(one === undefined ? [] : one);
const said = (error) => listOf(error.errors && error.errors.length ? error.errors : error).map((e) => e.message);

// Every fault the readers find in the package of this folder, one line each; empty: it is valid.
async function faultsOf(folder) {
  const faults = [];
  let rows = 0;
  try {
    const descriptor = JSON.parse(fs.readFileSync(path.join(folder, 'datapackage.json'), 'utf8'));
    const found = await Package.load(descriptor, { basePath: folder });
    faults.push(...found.errors.flatMap(said));
    for (const resource of found.resources) {
      if (!resource.tabular) throw new Error(`${resource.name} is not read as a table`);
      const declared = resource.descriptor.schema.fields.map((field) => field.name);
      const relations = listOf(resource.descriptor.schema.foreignKeys).length > 0;
      for (const row of await resource.read({ relations, forceCast: true })) {
        rows += 1;
        if (row instanceof Error) faults.push(...said(row).map((text) => `${resource.name}: ${text}`));
      }
      const header = listOf(resource.headers);
      if (header.join() !== declared.join()) faults.push(`${resource.name}: header ${header.join().slice(0, 60)}`);
    }
  } catch (error) {
    faults.push(...said(error));
  }
  return { faults, rows };
}

const cell = (text) => (/[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);
const csv = (rows) => rows.map((row) => row.map(cell).join(',') + '\r\n').join('');

// Of the type and form the field declares, and in no table.
function stranger(field) {
  if (field.format === 'uuid') return '0195d742-4780-70b3-8382-00000000dead';
  if (['integer', 'number'].includes(field.type)) return '987654';
  if (field.type === 'date') return '1900-01-01';
  if (/64/.test((field.constraints || {}).pattern || '')) return 'f'.repeat(64);
  return 'of-nobody';
}

// What can go wrong in a cell of this field: [how, cell, what the readers must say].
function cellFaults(field) {
  const limits = field.constraints || {};
  const faults = [];
  const typed = field.type !== 'string' && field.type !== 'any';
  if (typed || field.format === 'uuid') faults.push(['a wrong type', 'not-so', /is not type/]);
  if (limits.required) faults.push(['nothing where something is required', '', /"required" constraint/]);
  if (limits.enum) faults.push(['none of its words', stranger({ type: field.type }), /"enum" constraint/]);
  if (limits.pattern) faults.push(['not of its pattern', '?', /"pattern" constraint/]);
  if (limits.minimum !== undefined) faults.push(['below its minimum', String(limits.minimum - 1), /"minimum" constraint/]);
  if (limits.maximum !== undefined) faults.push(['above its maximum', String(limits.maximum + 1), /"maximum" constraint/]);
  const named = (words) => new RegExp(`${words.source}.*"${field.name}"|"${field.name}".*${words.source}`);
  return faults.map(([how, text, words]) => [`${field.name}: ${how}`, text, named(words)]);
}

// Faults of one table: [name, change of its rows (header first), what must be said].
function tableFaults(resource) {
  const { fields, primaryKey, foreignKeys } = resource.schema;
  const at = (name) => fields.findIndex((field) => field.name === name);
  const faults = fields.flatMap((field, column) =>
    cellFaults(field).map(([how, text, words]) => [how, (rows) => { rows[1][column] = text; }, words]));
  const key = listOf(primaryKey);
  if (key.length > 0) {
    faults.push([`primary key ${key} doubled`, (rows) => { rows.push([...rows[1]]); }, /unique constraint violation/]);
  }
  for (const { fields: names } of listOf(foreignKeys)) {
    const change = (rows) => listOf(names).forEach((name) => { rows[1][at(name)] = stranger(fields[at(name)]); });
    faults.push([`foreign key ${listOf(names)} broken`, change, /Foreign key .* violation/]);
  }
  faults.push(['a cell too many', (rows) => { rows[1].push('more'); }, /./]);
  faults.push(['a cell too few', (rows) => { rows[1].pop(); }, /./]);
  faults.push(['a column of another name', (rows) => { rows[0][0] += 'x'; }, /header/]);
  faults.push(['a byte-order mark', (rows) => { rows[0][0] = `\ufeff${rows[0][0]}`; }, /header/]);
  return faults;
}

const descriptorFaults = [
  ['no resources', (d) => { d.resources = []; }],
  ['a resource without a name', (d) => { delete d.resources[0].name; }],
  ['a field of an unknown type', (d) => { d.resources[0].schema.fields[0].type = 'colour'; }],
  ['a field without a name', (d) => { delete d.resources[0].schema.fields[0].name; }],
  ['a path out of the folder', (d) => { d.resources[0].path = `../${d.resources[0].path}`; }],
];

async function plantFaults(folder) {
  const scratch = fs.mkdtempSync(path.join(os.tmpdir(), 'judge-'));
  const taken = [];
  let planted = 0;
  const judge = async (name, words) => {
    planted += 1;
    const { faults } = await faultsOf(scratch);
    if (!faults.some((fault) => words.test(fault))) taken.push(`${name}: ${faults[0] || 'was taken'}`);
  };
  try {
    const descriptorText = fs.readFileSync(path.join(folder, 'datapackage.json'), 'utf8');
    const original = JSON.parse(descriptorText);
    const found = await Package.load(original, { basePath: folder });
    for (const file of ['datapackage.json', ...original.resources.map((r) => r.path)]) {
      fs.copyFileSync(path.join(folder, file), path.join(scratch, file));
    }
    for (const resource of original.resources) {
      const table = found.getResource(resource.name);
      const body = await table.read({ cast: false });
      const rows = [table.headers, ...body];
      // A table without rows has nothing to spoil; the test's sample must not hide a table that way.
      if (body.length === 0) taken.push(`${resource.name}: has no row to plant a fault in`);
      else {
        for (const [name, change, words] of tableFaults(resource)) {
          const copy = rows.map((row) => [...row]);
          change(copy);
          fs.writeFileSync(path.join(scratch, resource.path), csv(copy));
          await judge(`${resource.name}: ${name}`, words);
        }
      }
      fs.copyFileSync(path.join(folder, resource.path), path.join(scratch, resource.path));
    }
    for (const [name, change] of descriptorFaults) {
      const copy = JSON.parse(descriptorText);
      change(copy);
      fs.writeFileSync(path.join(scratch, 'datapackage.json'), JSON.stringify(copy));
      await judge(`datapackage.json: ${name}`, /./);
    }
    fs.writeFileSync(path.join(scratch, 'datapackage.json'), descriptorText);
    const { faults } = await faultsOf(scratch);
    if (faults.length > 0) taken.push(`put right again it is refused: ${faults[0]}`);
  } finally {
    fs.rmSync(scratch, { recursive: true });
  }
  return { planted, taken };
}

async function main() {
  const { faults, rows } = await faultsOf(data);
  if (faults.length > 0) throw new Error(faults.slice(0, 20).join('\n'));
  if (rows === 0) throw new Error('no table has a row');
  console.log(`a valid data package: ${rows} rows`);
  if (plant !== 'plant') return;
  const { planted, taken } = await plantFaults(data);
  if (taken.length > 0) throw new Error(`planted faults that were not refused by name:\n${taken.join('\n')}`);
  console.log(`${planted} planted faults, each refused by name`);
}

function refuse(error) {
  console.error(error.message);
  process.exit(1);
}

// The readers leave a table that is not there to whoever listens last.
process.on('uncaughtException', refuse);
main().catch(refuse);
