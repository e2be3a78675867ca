// SPDX-License-Identifier: Apache-2.0
// The page in a browser: the main job by keyboard, by touch, with the server gone, carried and brought back; and what
// is the same on every station in every display. Prints TAP.
//   node tests/page.mjs build/eavesmith examples [CHROMIUM]
import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { chromium } from "playwright-core";

const [program, examples, browserPath = "/usr/bin/chromium"] = process.argv.slice(2);
const axe = fs.readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const folder = fs.mkdtempSync(path.join(os.tmpdir(), "eavesmith-page-"));
const jobs = path.join(folder, "jobs");
const house = path.join(jobs, "house.yaml");

let points = 0;
let failures = 0;
function point(good, name, notes = "") {
  points += 1;
  if (!good) {
    failures += 1;
    for (const line of String(notes).trimEnd().split("\n")) console.log(`# ${line}`);
  }
  console.log(`${good ? "ok" : "not ok"} ${points} - ${name}`);
}
const same = (is, wanted, name) => point(is === wanted, name, `is     ${is}\nwanted ${wanted}`);

// ---- server and pages ---------------------------------------------------------------------------

let server;
async function serve(port) {
  server = spawn(path.resolve(program), ["serve", jobs, "--port", String(port)], { stdio: ["ignore", "pipe", "ignore"] });
  const address = await new Promise((resolve, reject) => {
    server.stdout.once("data", (data) => resolve(String(data).trim()));
    server.once("exit", () => reject(new Error("the server ended")));
  });
  return address;
}
function stopServer() {
  return new Promise((resolve) => {
    server.once("exit", resolve);
    server.kill("SIGKILL");
  });
}

const faults = [];
function watch(page) {
  page.setDefaultTimeout(15000);
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error" && !/ERR_CONNECTION_REFUSED|Failed to load resource/.test(message.text())) faults.push(message.text());
  });
  return page;
}

const until = async (what, wanted, tries = 60) => {
  let is;
  for (let left = tries; left > 0; left--) {
    is = await what();
    if (is === wanted) return is;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return is;
};
const priceOf = (page) => page.locator(".stations .price").evaluate((box) => box.firstChild.textContent);
const savedOf = async (page) => (await page.locator(".saving").innerText()).replace(/^\S+ /, "");
const undoOf = (page) => page.locator("header button").first().innerText();

async function open(page, start, room, name) {
  await page.goto(start);
  await page.goto(`${new URL(start).origin}/#${room}/${name}`);
  await page.reload();
  await page.waitForSelector(room === "walk" || room === "bench" ? `.${room}` : ".findings");
  if (room !== "walk" && room !== "bench") await page.waitForSelector(".tape");
}

/** Moves the focus by the Tab key alone until the label is reached. */
async function tabTo(page, label) {
  for (let left = 200; left > 0; left--) {
    await page.keyboard.press("Tab");
    const now = await page.evaluate(() => {
      const field = document.activeElement;
      return field?.labels?.[0]?.textContent ?? field?.textContent ?? "";
    });
    if (now === label) return true;
  }
  return false;
}

function solvedTotal(file) {
  const run = () => execFileSync(program, ["solve", file, "--json"], { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 });
  return JSON.parse(run()).money.total_minor;
}
const dollars = (minor) => `$${(minor / 100).toLocaleString("en", { minimumFractionDigits: 2 })}`;

// ---- the tests ----------------------------------------------------------------------------------

async function byKeyboard(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await page.goto(start);
  point(await tabTo(page, await page.locator(".jobs a").first().innerText().then(() => page.locator(".jobs a", { hasText: "house.yaml" }).evaluate((link) => link.textContent))), "keyboard: the job is reached by Tab");
  await page.keyboard.press("Enter");
  await page.waitForSelector(".tape");
  const before = await priceOf(page);
  same(before.trim(), dollars(solvedTotal(house)), "keyboard: the page's price is the program's");
  point(await tabTo(page, "size, x"), "keyboard: the first size is reached by Tab");
  await page.keyboard.press("Control+a");
  await page.keyboard.type("60'");
  const raised = await until(async () => (await priceOf(page)) !== before, true);
  point(raised, "keyboard: typing a length moves the price");
  same(await until(() => savedOf(page), "saved"), "saved", "keyboard: it saves by itself");
  const text = fs.readFileSync(house, "utf8");
  point(text.includes("size: [60', 26']") && text.includes("# "), "keyboard: the value stands in the file, comments kept", text);
  await page.keyboard.type(' 14"');
  await page.waitForSelector(".has-fault");
  point((await page.locator(".has-fault").innerText()).includes("13/16"), "keyboard: the fault stands under its field with what would be right");
  await page.keyboard.press("Control+z");
  if ((await page.locator(".has-fault").count()) > 0) await page.keyboard.press("Control+z");
  while ((await priceOf(page)) !== before && (await undoOf(page)) !== "Undo") {
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(150);
  }
  same(await priceOf(page), before, "keyboard: undo gives the same price to the cent");
  same(await until(() => savedOf(page), "saved"), "saved", "keyboard: undo is saved too");
  same(fs.readFileSync(house, "utf8"), fs.readFileSync(`${house}.as-was`, "utf8"), "keyboard: undone, the file is byte for byte as it was");
  await page.locator(".roll svg").focus();
  const where = await page.locator(".where").innerText();
  await page.keyboard.press("ArrowRight");
  point((await page.locator(".where").innerText()) !== where, "keyboard: the plumb line goes to the next bracket");
  await page.locator(".figures .ask").first().focus();
  await page.keyboard.press("Enter");
  point((await page.locator(".asked").innerText()).includes("sq ft"), "keyboard: a figure is asked why");
  await page.keyboard.press("Escape");
  same(await page.locator(".asked").count(), 0, "keyboard: Escape closes the reasons");
  await page.close();
}

async function keysAlone(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await open(page, start, "house", "porch.yaml");
  await page.keyboard.press("?");
  point(await page.locator("dialog.keys-list").isVisible(), "keys: ? shows the list");
  await page.keyboard.press("Escape");
  point(!(await page.locator("dialog.keys-list").isVisible()), "keys: Escape closes it");
  for (const [digit, room] of [["2", "water"], ["6", "site"], ["4", "money"]]) {
    await page.keyboard.press(`Alt+${digit}`);
    await page.waitForSelector(`.stations a[aria-current][href^="#${room}/"]`);
  }
  point(true, "keys: Alt and a digit go to the stations");
  await page.keyboard.press("Alt+0");
  const where = await page.locator(".where").innerText();
  await page.keyboard.press("End");
  point((await page.locator(".where").innerText()) !== where, "keys: Alt+0 takes the tape, End the plumb line to its eave's end");
  await page.keyboard.press("Alt+7");
  await page.waitForSelector(".walk");
  const before = (await page.locator(".answer").innerText()).trim();
  for (const key of ["Backspace", "Backspace", "Backspace", "Backspace", "Backspace", "Backspace", "Backspace", "Backspace"]) await page.keyboard.press(key);
  await page.keyboard.type(`31'6"`);
  point(/^31' ?6"$/.test((await page.locator(".answer").innerText()).trim()), "keys: the walk takes typed lengths", await page.locator(".answer").innerText());
  await page.keyboard.press("Enter");
  point((await page.locator(".walk .quiet").first().innerText()).startsWith("2 of"), "keys: Enter is the next question");
  while ((await page.locator(".steps button", { hasText: "Undo" }).isEnabled())) await page.keyboard.press("Control+z");
  await page.keyboard.press("Shift+Enter");
  same((await page.locator(".answer").innerText()).trim(), before, "keys: undone, it reads as before");
  await page.keyboard.press("Alt+1");
  await page.getByLabel("pitch").first().focus();
  await page.keyboard.press("End");
  await page.keyboard.type("?");
  point(!(await page.locator("dialog.keys-list").isVisible()), "keys: a question mark typed into a field is typed");
  await page.keyboard.press("Control+z");
  same(await until(() => savedOf(page), "saved"), "saved", "keys: and undone");
  const unreached = await page.evaluate(() =>
    [...document.querySelectorAll("[onclick], a[href], button, input, select, textarea")].filter((one) => one.tabIndex < 0).length);
  same(unreached, 0, "keys: nothing that can be used is left out by Tab");
  await page.close();
}

async function unitsSwitch(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await open(page, start, "house", "house.yaml");
  const text = fs.readFileSync(house, "utf8");
  await page.getByLabel("Shown in").selectOption("mm");
  point((await page.locator(".where").innerText()).includes("mm"), "units: shown in millimetres");
  await page.getByLabel("Shown in").selectOption("ft-in");
  await page.waitForTimeout(900);
  same(fs.readFileSync(house, "utf8"), text, "units: switching twice changes no byte of the job");
  await page.close();
}

async function film(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await open(page, start, "water", "house.yaml");
  const price = await priceOf(page);
  const before = await page.locator(".tape polygon.water").first().getAttribute("points");
  await page.getByRole("button", { name: "A storm of 100 years" }).click();
  point((await page.locator(".film-over").innerText()).includes("ell.4.reach.2"), "film: it opens at the hardest minute and says where it goes over");
  point((await page.locator(".tape .over-rim").count()) > 0, "film: the tape shows it at the rim");
  point((await page.locator(".tape polygon.water").first().getAttribute("points")) !== before, "film: the water on the tape is that minute's");
  await page.getByLabel("A storm of 100 years").focus();
  await page.keyboard.press("Home");
  point((await page.locator(".film strong").innerText()).startsWith("minute 1 of 60"), "film: keys go to its beginning");
  same(await page.locator(".film-over").count(), 0, "film: where nothing goes over");
  await page.getByRole("button", { name: "Play" }).click();
  await page.waitForFunction(() => Number(document.querySelector("#film-minute").value) > 2);
  await page.getByRole("button", { name: "Stop" }).click();
  point(true, "film: it plays and stops");
  same(await priceOf(page), price, "film: the price stays");
  await page.evaluate(axe);
  const found = await page.evaluate(async () => (await axe.run()).violations.map((one) => one.id));
  same(found.join(), "", "film: axe finds nothing");
  const clash = await page.evaluate(wordsThatClash);
  same(clash.join(), "", "film: no words run into others");
  await page.locator(".film").getByRole("button", { name: "Close" }).click();
  same(await page.locator(".tape polygon.water").first().getAttribute("points"), before, "film: closed, the design's water is back");
  await page.close();
}

async function drawing(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await open(page, start, "house", "house.yaml");
  const asWas = fs.readFileSync(house, "utf8");
  const price = await priceOf(page);
  await page.getByRole("button", { name: "Draw the house" }).click();
  const east = page.getByRole("button", { name: /^east side of hall/ });
  const box = await east.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 20, y + 30, { steps: 5 });
  await page.waitForTimeout(800);
  await page.mouse.move(x + 43, y + 5, { steps: 5 });
  const shown = (await page.locator(".drawn").innerText()).trim();
  await page.mouse.up();
  const size = await page.getByLabel("size, x").first().inputValue();
  point(/^\d+'/.test(size) && size !== "56'" && shown.startsWith("size, x "), "drawing: a side is dragged, its figure stands above", `${size}; ${shown}`);
  same(await until(async () => (await priceOf(page)) !== price, true), true, "drawing: the price follows");
  same(await until(() => savedOf(page), "saved"), "saved", "drawing: it is saved");
  const changed = fs.readFileSync(house, "utf8").split("\n").filter((line, at) => line !== asWas.split("\n")[at]);
  same(changed.join(), `    size: [${size}, 26']`, "drawing: one line of the file has changed");
  await page.keyboard.press("Control+z");
  same(await until(() => page.getByLabel("size, x").first().inputValue(), "56'"), "56'", "drawing: one step of undo takes the whole drag back");
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 60, y, { steps: 4 });
  await page.keyboard.press("Escape");
  await page.mouse.up();
  same(await page.getByLabel("size, x").first().inputValue(), "56'", "drawing: Escape leaves a drag with nothing changed");
  await page.getByRole("button", { name: /^porch,/ }).focus();
  await page.keyboard.press("Shift+ArrowRight");
  await page.keyboard.press("ArrowRight");
  same(await until(() => page.getByLabel("corner, x").nth(2).inputValue(), `20' 1"`), `20' 1"`, "drawing: arrow keys move a wing by a foot, by an inch");
  await page.keyboard.press("Enter");
  point(await page.evaluate(() => document.activeElement.closest("fieldset").querySelector("legend").textContent === "porch"), "drawing: Enter leads to its figures in the sheet");
  await page.evaluate(axe);
  const found = await page.evaluate(async () => (await axe.run()).violations.map((one) => `${one.id} ${one.nodes[0].html.slice(0, 120)}`));
  same(found.join(), "", "drawing: axe finds nothing");
  same((await page.evaluate(wordsThatClash)).join(), "", "drawing: no words run into others");
  await page.getByRole("button", { name: "Add a wing" }).click();
  same(await until(() => page.locator(".sheet legend", { hasText: "wing 4" }).count(), 1), 1, "drawing: a wing is added");
  await page.getByRole("button", { name: /^wing 4,/ }).focus();
  await page.getByRole("button", { name: "Take wing 4 away" }).click();
  same(await until(() => page.locator(".sheet legend", { hasText: "wing 4" }).count(), 0), 0, "drawing: and taken away");
  while ((await undoOf(page)) !== "Undo") {
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(60);
  }
  same(await until(() => savedOf(page), "saved"), "saved", "drawing: all undone");
  same(fs.readFileSync(house, "utf8"), asWas, "drawing: the file is byte for byte as it was");
  fs.copyFileSync(path.join(examples, "outline/house.yaml"), path.join(jobs, "court.yaml"));
  await open(page, start, "house", "court.yaml");
  await page.getByRole("button", { name: "Draw the house" }).click();
  const corner = await page.getByRole("button", { name: /^corner 2, court:/ }).boundingBox();
  await page.mouse.move(corner.x + 20, corner.y + 20);
  await page.mouse.down();
  await page.mouse.move(corner.x + 38, corner.y + 20, { steps: 3 });
  const edges = (await page.locator(".drawn").innerText()).replace(/\s+/g, " ");
  await page.mouse.up();
  point(/edge 1 7\d'.*edge 2 5\d'/.test(edges), "drawing: a corner of an outline shows the two edges that meet there", edges);
  point((await page.getByRole("button", { name: /^corner 1, court 1/ }).count()) === 1, "drawing: a courtyard's corners can be taken");
  await page.close();
}

/** A finger on a side of the porch, moved right; the page must not scroll instead. */
async function drawnByFinger(browser, start) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = watch(await context.newPage());
  await open(page, start, "house", "house.yaml");
  await page.getByRole("button", { name: "Draw the house" }).tap();
  await page.locator(".draw svg").scrollIntoViewIfNeeded();
  const box = await page.getByRole("button", { name: /^east side of hall/ }).boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const finger = await context.newCDPSession(page);
  const touch = (type, dx, dy) => finger.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x: x + dx, y: y + dy }] });
  await touch("touchStart", 0, 0);
  for (let step = 1; step <= 6; step++) await touch("touchMove", 4 * step, 5 * step);
  await touch("touchEnd");
  point((await page.getByLabel("size, x").first().inputValue()) !== "56'", "finger: a side is dragged");
  await page.getByRole("button", { name: /^Undo/ }).tap();
  same(await until(() => page.getByLabel("size, x").first().inputValue(), "56'"), "56'", "finger: and undone in one step");
  await until(() => savedOf(page), "saved");
  await context.close();
}

async function newJobs(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await page.goto(start);
  await page.getByLabel("what it is called").fill("Hopper's wash house");
  await page.getByLabel("begin with").selectOption("wings");
  await page.getByRole("button", { name: "Begin it" }).click();
  await page.waitForSelector(".tape");
  same(await page.locator("h1").innerText(), "Hopper's wash house", "new job: it is opened");
  point(fs.readFileSync(path.join(jobs, "hoppers-wash-house.yaml"), "utf8").includes("prices: prices.yaml"), "new job: with the folder's price list");
  await page.locator("a.all", { hasText: "All jobs" }).click();
  await page.getByLabel("what it is called").fill("Second porch");
  await page.getByLabel("begin with").selectOption({ label: "a copy of Sallowfield porch" });
  await page.getByRole("button", { name: "Begin it" }).click();
  await page.waitForSelector(".tape");
  const [copy, of] = ["second-porch.yaml", "porch.yaml"].map((name) => fs.readFileSync(path.join(jobs, name), "utf8"));
  same(copy, of.replace(/^job: .*$/m, "job: Second porch"), "new job: a copy is the other's text but for its name");
  await page.goto(`${new URL(start).origin}/#jobs`);
  await page.reload();
  await page.waitForSelector(".new-job");
  await page.evaluate(axe);
  const found = await page.evaluate(async () => (await axe.run()).violations.map((one) => `${one.id} ${one.nodes[0].html.slice(0, 120)}`));
  same(found.join(), "", "new job: axe finds nothing on the list");
  await page.close();
}

async function inTheWay(browser, start) {
  fs.writeFileSync(path.join(jobs, "unsafe.yaml"), fs.readFileSync(path.join(jobs, "porch.yaml"), "utf8").replace("6.6 in/h", "30 in/h"));
  fs.writeFileSync(path.join(jobs, "broken.yaml"), "eavesmith: 1\njob: [broken\n");
  const page = watch(await browser.newPage({ viewport: { width: 390, height: 844 } }));
  await open(page, start, "water", "unsafe.yaml");
  point((await page.locator('.stations a[href^="#water"]').innerText()).includes("not safe"), "in the way: too small a gutter stands at Water");
  same(await page.getByRole("link", { name: "Packet (PDF)" }).count(), 0, "in the way: no packet of what is not safe, and it says why");
  point((await page.locator(".papers").innerText()).includes("not safe as drawn"), "in the way: it says why");
  for (const room of ["house", "money", "site"]) {
    await page.goto(`${new URL(start).origin}/#${room}/broken.yaml`);
    await page.waitForSelector(".findings li");
    same(await page.getByText("cannot be worked out yet").count(), 1, `in the way: a broken text is said once, ${room}`);
    same((await page.evaluate(wordsThatClash)).join(), "", `in the way: no words run into others, ${room}`);
  }
  await page.getByRole("link", { name: "All jobs" }).click();
  await page.waitForSelector(".new-job");
  same((await page.evaluate(wordsThatClash)).join(), "", "in the way: nor on the list of jobs");
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  point(over <= 0, "no sideways scroll: the list, 390 px", `${over} px`);
  await page.close();
}

/** One browser, two tabs on one job: the second to save sees both texts; what either typed is never lost by a reload. */
async function twoTabs(browser, start) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const [one, two] = [watch(await context.newPage()), watch(await context.newPage())];
  fs.copyFileSync(path.join(examples, "porch/porch.yaml"), path.join(jobs, "tabs.yaml"));
  const file = path.join(jobs, "tabs.yaml");
  await open(one, start, "house", "tabs.yaml");
  await open(two, start, "house", "tabs.yaml");
  await one.bringToFront();
  await one.getByLabel("pitch").fill("5/12");
  same(await until(async () => fs.readFileSync(file, "utf8").includes("5/12"), true), true, "two tabs: the first saves");
  await two.bringToFront(); // a tab behind is not painted
  await two.getByLabel("overhang").fill('13"');
  await two.waitForSelector(".conflict");
  point(fs.readFileSync(file, "utf8").includes("5/12"), "two tabs: nothing of the first is written over");
  const both = await two.locator(".conflict pre").allTextContents();
  point(both[0]?.includes('13"') && both[0]?.includes("4/12") && both[1]?.includes("5/12"), "two tabs: the second sees both texts");
  await two.reload();
  await two.waitForSelector(".conflict");
  point((await two.locator(".conflict pre").first().innerText()).includes('13"'), "two tabs: also after a reload");
  await one.bringToFront();
  await one.getByLabel("eave height").fill("10'");
  await until(async () => fs.readFileSync(file, "utf8").includes("10'"), true);
  await two.bringToFront();
  await two.reload();
  await two.waitForSelector(".conflict");
  point((await two.locator(".conflict pre").first().innerText()).includes('13"'), "two tabs: also when the first typed on");
  await one.bringToFront();
  await one.getByLabel("eave height").fill("11'");
  same(await until(async () => fs.readFileSync(file, "utf8").includes("11'"), true), true, "two tabs: the first goes on saving");
  await two.bringToFront();
  await two.getByText("Save mine over it").click();
  const shows = async () => (await two.locator(".conflict pre").allTextContents())[1]?.includes("11'") ?? false;
  same(await until(shows, true), true, "two tabs: a text that was not shown is not written over, it is shown");
  point(fs.readFileSync(file, "utf8").includes("11'"), "two tabs: and stands in the file");
  await two.getByText("Save mine over it").click();
  same(await until(() => savedOf(two), "saved"), "saved", "two tabs: what was shown can be saved over");
  await one.bringToFront();
  await one.reload();
  await one.waitForSelector(".tape");
  same(await one.getByLabel("overhang").inputValue(), '13"', "two tabs: the first, loaded again, has the second's");
  await context.close();
}

async function serverGone(browser, start, port) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = watch(await context.newPage());
  await open(page, start, "house", "house.yaml");
  await stopServer();
  await page.getByLabel("eave height").first().fill("16'");
  same(await until(() => savedOf(page), "kept here only"), "kept here only", "server gone: said so");
  const price = await priceOf(page);
  const again = await serve(port);
  await open(page, again, "house", "house.yaml");
  same(await page.getByLabel("eave height").first().inputValue(), "16'", "server gone: the edit is there after a reload");
  point((await undoOf(page)).includes("eave height"), "server gone: so is the name of its undo", await undoOf(page));
  same(await until(() => priceOf(page), price), price, "server gone: and its price");
  same(await until(() => savedOf(page), "saved"), "saved", "server gone: it is saved when the server is back");
  point(fs.readFileSync(house, "utf8").includes("eave height: 16'"), "server gone: the file has it");
  await context.close();
  return again;
}

async function conflict(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await open(page, start, "house", "house.yaml");
  fs.writeFileSync(house, fs.readFileSync(house, "utf8").replace("Parish", "Vestry"));
  await page.getByLabel("overhang").first().fill('14"');
  await page.waitForSelector(".conflict");
  const both = await page.locator(".conflict pre").allTextContents();
  point(both[0]?.includes('14"') && both[1]?.includes("Vestry"), "conflict: both texts are shown");
  point(!fs.readFileSync(house, "utf8").includes('overhang: 14"'), "conflict: nothing was written over");
  await page.getByText("Take the one on the disk").click();
  same(await until(() => savedOf(page), "saved"), "saved", "conflict: the disk's text can be taken");
  await page.keyboard.press("Control+z");
  same(await until(() => page.getByLabel("overhang").first().inputValue(), '14"'), '14"', "conflict: and ours comes back by undo");
  await until(() => savedOf(page), "saved");
  await page.close();
}

async function byTouch(browser, start) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = watch(await context.newPage());
  await open(page, start, "walk", "porch.yaml");
  const tap = (name) => page.getByRole("button", { name, exact: true }).tap();
  for (let left = 12; left > 0 && (await page.locator(".answer").innerText()).length > 3; left--) await tap("take back");
  while (!(await page.locator(".answer").innerText()).includes("not said")) await tap("take back");
  for (const key of ["3", "0", "feet", "6", "a quarter", "an eighth"]) {
    await tap(key);
    await page.waitForTimeout(260);
  }
  same((await page.locator(".answer").innerText()).replace(/\s+/g, " ").trim(), `30' 6 3 / 8 "`, "touch: keys and fractions make a length");
  await tap("Read it again");
  point((await page.locator(".walk .more").innerText()).includes("the same"), "touch: the second reading is compared");
  await tap("take back");
  await tap("inches");
  point(/apart|same/.test(await page.locator(".walk .more").innerText()), "touch: and their difference said", await page.locator(".walk .more").innerText());
  const steps = await page.locator(".walk .quiet").first().innerText();
  await tap("Next ►");
  point((await page.locator(".walk .quiet").first().innerText()) !== steps, "touch: the next question");
  same(await until(() => savedOf(page), "saved"), "saved", "touch: kept at every key");
  point(fs.readFileSync(path.join(jobs, "porch.yaml"), "utf8").includes(`30' 6 3/8"`), "touch: the file has it");
  await context.close();
}

async function bench(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  await page.goto(start);
  await page.evaluate(() => localStorage.setItem("eavesmith/display", "sun"));
  for (const room of ["walk", "bench"]) {
    await open(page, start, room, "house.yaml");
    same(await page.evaluate(() => document.documentElement.dataset.display), "sun", `display: kept when the ${room} is opened first`);
  }
  await open(page, start, "bench", "house.yaml");
  const first = await page.locator(".bench h2").innerText();
  await page.keyboard.press(" ");
  point((await page.locator(".bench .row").innerText()).includes("1 of "), "bench: space is done");
  point((await page.locator(".bench h2").innerText()) !== first, "bench: and goes to the next piece");
  await page.reload();
  await page.waitForSelector(".bench");
  point((await page.locator(".bench .row").innerText()).includes("1 of "), "bench: done stays done after a reload");
  await page.close();
}

async function carried(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 }, acceptDownloads: true }));
  await open(page, start, "house", "porch.yaml");
  const file = path.join(folder, "carried.html");
  const [made] = await Promise.all([page.waitForEvent("download"), page.getByText("Make the file to carry").click()]);
  await made.saveAs(file);
  const phone = watch(await (await browser.newContext({ viewport: { width: 390, height: 844 }, acceptDownloads: true })).newPage());
  await phone.goto(`file://${file}`);
  await phone.waitForSelector(".tape");
  same(await priceOf(phone), await priceOf(page), "carried: opened from a file, it gives the shop's price");
  await phone.getByLabel("pitch").fill("6/12");
  await phone.getByLabel("overhang").fill("");
  const changes = path.join(folder, "changes.json");
  const [back] = await Promise.all([phone.waitForEvent("download"), phone.getByText("Hand back the changes").click()]);
  await back.saveAs(changes);
  await phone.context().close();
  same(JSON.parse(fs.readFileSync(changes, "utf8")).changes.length, 2, "carried: two changes are handed back");
  await page.locator('input[type="file"]').setInputFiles(changes);
  await page.waitForSelector(".returned li");
  const list = await page.locator(".returned li").allInnerTexts();
  point(list.length === 2 && list.join().includes("4/12 → 6/12"), "carried: each is shown beside what stands here", list.join("\n"));
  await page.locator('.returned input[type="checkbox"]').nth(1).uncheck();
  await page.getByText("Take what is ticked").click();
  same(await page.getByLabel("pitch").inputValue(), "6/12", "carried: the chosen one is taken");
  same(await page.getByLabel("overhang").inputValue(), '11 1/4"', "carried: the other is not");
  await until(() => savedOf(page), "saved");
  await page.close();
}

/** In the browser: words of a drawing that cover each other, words cut off by the box they stand in. */
function wordsThatClash() {
  const found = [];
  for (const drawing of document.querySelectorAll("svg")) {
    const words = [...drawing.querySelectorAll("text")].filter((text) => text.textContent.trim() !== "");
    const boxes = words.map((text) => [(text.firstChild ?? text).textContent, text.getBoundingClientRect()]);
    boxes.forEach(([one, a], index) => {
      for (const [other, b] of boxes.slice(index + 1)) {
        const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (across > 2 && down > 4) found.push(`"${one}" and "${other}" cover each other`);
      }
    });
  }
  for (const box of document.querySelectorAll("td, th, dd, dt, legend, label, button:not(.link), .stations a, h1, h2, p")) {
    if (box.closest(".hidden") !== null || box.querySelector(".named") !== null || box.clientWidth < 2) continue;
    if (box.scrollWidth > box.clientWidth + 1) found.push(`cut off: "${box.textContent.slice(0, 60)}" by ${box.scrollWidth - box.clientWidth} px`);
  }
  return found;
}

const ROOMS = ["house", "water", "metal", "money", "crate", "site", "walk", "bench"];
const SIZES = [
  [1280, 900],
  [1024, 768],
  [390, 844],
];

async function everywhere(browser, start) {
  for (const [width, height] of SIZES) {
    const page = watch(await browser.newPage({ viewport: { width, height }, reducedMotion: "reduce" }));
    for (const display of width === 1024 ? ["day"] : ["day", "dark", "sun"]) {
      await page.goto(start);
      await page.evaluate((name) => localStorage.setItem("eavesmith/display", name), display);
      await open(page, start, "house", "house.yaml");
      await page.evaluate(axe);
      for (const room of ROOMS) {
        await page.evaluate((hash) => {
          location.hash = hash;
        }, `${room}/house.yaml`);
        await page.waitForSelector(room === "walk" || room === "bench" ? `.${room}` : `.stations a[aria-current][href^="#${room}/"]`);
        await page.waitForTimeout(30);
        const found = await page.evaluate(async () => (await axe.run()).violations);
        const said = found.map((one) => `${one.id}: ${one.nodes.length} x ${one.nodes[0].html.slice(0, 140)}`).join("\n");
        point(found.length === 0, `axe: ${room}, ${display}, ${width} px`, said);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        point(over <= 0, `no sideways scroll: ${room}, ${display}, ${width} px`, `${over} px too wide`);
        if (display === "dark") continue; // its boxes are those of day
        const clash = await page.evaluate(wordsThatClash);
        point(clash.length === 0, `no words run into others or out of their box: ${room}, ${display}, ${width} px`, clash.join("\n"));
      }
    }
    await page.close();
  }
}

async function largeText(browser, start) {
  const page = watch(await browser.newPage({ viewport: { width: 1280, height: 900 } }));
  for (const room of ["house", "water", "walk", "bench"]) {
    await open(page, start, room, "house.yaml");
    await page.evaluate(() => {
      document.documentElement.style.fontSize = "200%";
    });
    await page.waitForTimeout(200);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    point(over <= 0, `text at 200 %: nothing runs out of ${room}`, `${over} px too wide`);
  }
  await open(page, start, "metal", "house.yaml");
  const pdf = await page.pdf({ format: "Letter" });
  const pages = (pdf.toString("latin1").match(/\/Type\s*\/Page\b/g) ?? []).length;
  point(pages >= 2, "print: the station is printed whole", `${pages} pages`);
  await page.evaluate(() => localStorage.setItem("eavesmith/display", "dark"));
  await open(page, start, "site", "house.yaml");
  await page.emulateMedia({ media: "print" });
  await page.setViewportSize({ width: 720, height: 900 });
  const printed = await page.evaluate(() => {
    const rows = [...document.querySelectorAll(".print-rows > div")];
    const over = [...document.querySelectorAll("main *")].filter((one) => one.checkVisibility() && one.closest("svg, .tape-now, .hidden") === null && one.getBoundingClientRect().right > innerWidth + 1);
    const roof = getComputedStyle(document.documentElement);
    return {
      ink: roof.getPropertyValue("--ink").trim(),
      rows: rows.length,
      long: document.querySelector(".roll svg").width.baseVal.value,
      over: over.map((one) => one.outerHTML.slice(0, 80)),
      buttons: [...document.querySelectorAll("button, .papers, textarea")].filter((one) => one.checkVisibility()).length,
    };
  });
  same(printed.ink, "#000", "print: black on white, whatever the display");
  same(printed.rows, Math.ceil((printed.long - 28) / 600), "print: the whole tape in rows");
  same(printed.over.join("\n"), "", "print: nothing runs off the paper");
  same(printed.buttons, 0, "print: no buttons on paper");
  await page.evaluate(() => localStorage.setItem("eavesmith/display", "day"));
  await page.close();
}

// ---- run ----------------------------------------------------------------------------------------

function copyJobs() {
  fs.mkdirSync(jobs);
  for (const [from, name] of [["demo/house.yaml", "house.yaml"], ["porch/porch.yaml", "porch.yaml"], ["demo/prices.yaml", "prices.yaml"], ["demo/rain-saltmarrow.csv", "rain-saltmarrow.csv"]])
    fs.copyFileSync(path.join(examples, from), path.join(jobs, name));
  fs.copyFileSync(house, `${house}.as-was`);
}

copyJobs();
const browser = await chromium.launch({
  executablePath: browserPath,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
try {
  let start = await serve(0);
  const port = new URL(start).port;
  const only = process.env.ONLY;
  for (const [name, test] of Object.entries({ byKeyboard, keysAlone, unitsSwitch, conflict, byTouch, film, drawing, drawnByFinger, bench, newJobs, inTheWay, twoTabs, carried, largeText, everywhere })) {
    if (only !== undefined && only !== name) continue;
    await test(browser, start).catch((error) => point(false, name, error.stack));
  }
  if (only === undefined || only === "serverGone") await serverGone(browser, start, port).catch((error) => point(false, "serverGone", error.stack));
  same(faults.length, 0, `no page said an error${faults.length > 0 ? `: ${faults[0]}` : ""}`);
} finally {
  await browser.close();
  server?.kill("SIGKILL");
  fs.rmSync(folder, { recursive: true, force: true });
}
console.log(`1..${points}`);
process.exit(failures > 0 ? 1 : 0);
