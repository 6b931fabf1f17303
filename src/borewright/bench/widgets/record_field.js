let made = 0;
// One field of a form. What is typed stays here, whatever else on the page is drawn anew: it
// changes only when `turn` counts on, which the server does where it means to. With `keep`, a name
// of its own, it also outlives a reload of this page, until it is written or taken back.
const DRAFT = "borewright draft: ";
const kept = new Map(); // what was typed, while the page is told in another language
const WAIT_MS = 3000; // a field that comes back later than this is another field
export default {
  template: `
    <div class="bw-field bw-record-field" :class="{ 'bw-long': sort === 'lines' }">
      <label class="bw-label" :for="name">{{ label }}<span v-if="needed"> *</span></label>
      <select v-if="sort === 'choice'" :id="name" v-model="typed" v-bind="common" @change="tell">
        <option v-for="[key, words] in options" :key="key" :value="key">{{ words }}</option>
      </select>
      <textarea v-else-if="sort === 'lines'" :id="name" v-model="typed" v-bind="common" rows="2"
                @input="tell"></textarea>
      <input v-else :id="name" :type="sort === 'day' ? 'date' : 'text'" v-model="typed"
             :inputmode="sort === 'number' ? 'decimal' : null" v-bind="common" autocomplete="off"
             @input="tell" @change="tell" />
      <span v-if="note" class="bw-small" :id="name + '-note'">{{ note }}</span>
      <span v-if="error" class="bw-wrong" :id="name + '-wrong'" role="alert">{{ error }}</span>
    </div>`,
  props: {
    label: String, sort: String, options: Array, shown: String, turn: Number, needed: Boolean,
    note: String, error: String, mark: String, keep: String, language: String,
  },
  data() {
    return { typed: this.shown, name: "bw-record-" + ++made };
  },
  computed: {
    common() {
      const about = [this.note && this.name + "-note", this.error && this.name + "-wrong"];
      return {
        "data-mark": this.mark,
        "aria-required": this.needed ? "true" : "false",
        "aria-invalid": this.error ? "true" : "false",
        "aria-describedby": about.filter(Boolean).join(" ") || null,
      };
    },
  },
  mounted() {
    const found = kept.get(this.mark + this.keep);
    kept.delete(this.mark + this.keep);
    const told = found && found.language !== this.language && Date.now() - found.at < WAIT_MS;
    const draft = told ? found.typed
      : this.keep ? sessionStorage.getItem(DRAFT + this.keep) : null;
    if (draft !== null && draft !== this.shown) {
      this.typed = draft;
      this.$emit("typed", draft);
    }
  },
  beforeUnmount() {
    if (this.typed !== this.shown)
      kept.set(this.mark + this.keep,
               { typed: this.typed, language: this.language, at: Date.now() });
  },
  watch: {
    turn() {
      this.typed = this.shown;
      this.remember();
    },
  },
  methods: {
    tell(event) {
      // A day that is typed by half is empty to the page; the server must not take it for none.
      this.$emit("typed", event.target.validity.badInput ? "…" : this.typed);
      this.remember();
    },
    remember() {
      if (!this.keep) return;
      if (this.typed === this.shown) sessionStorage.removeItem(DRAFT + this.keep);
      else sessionStorage.setItem(DRAFT + this.keep, this.typed);
    },
  },
};
