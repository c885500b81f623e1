// What the page's script does when a page comes. The pages work without it; with it
// nothing is lost when the connection is.
import * as store from "./store.js";
import {begin, here} from "./form.js";
import {begin as beginMove} from "./move.js";
import {show} from "./waiting.js";
import {drain} from "./send.js";
import {begin as beginLine} from "./line.js";

beginLine();
await store.settle();
await begin();
if (!here()) await show("");
const there = await beginMove();
if (there && !document.getElementById("code-form")) await drain();
document.getElementById("waiting").dataset.tried = "yes"; // what can go out has gone
// What opens the page of what is kept without the shop's computer, in its newest state.
fetch("/phone/kept", {cache: "no-cache"}).catch(() => {});
