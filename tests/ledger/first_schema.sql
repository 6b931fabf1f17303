-- A ledger as the first release left it: invented records, dumped once and never changed.
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE assembly (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	instrument VARCHAR(200) NOT NULL, 
	keywork_lot VARCHAR(200) NOT NULL, 
	pad_lot VARCHAR(200), 
	spring_lot VARCHAR(200), 
	cork_lot VARCHAR(200), 
	coating_lot VARCHAR(200), 
	who VARCHAR(200) NOT NULL, 
	day DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_assembly_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(instrument) REFERENCES instrument (code), 
	FOREIGN KEY(keywork_lot) REFERENCES lot (code), 
	FOREIGN KEY(pad_lot) REFERENCES lot (code), 
	FOREIGN KEY(spring_lot) REFERENCES lot (code), 
	FOREIGN KEY(cork_lot) REFERENCES lot (code), 
	FOREIGN KEY(coating_lot) REFERENCES lot (code)
);
CREATE TABLE batch (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	design VARCHAR(200) NOT NULL, 
	quantity INTEGER NOT NULL, 
	plating VARCHAR(200), 
	started DATE, 
	due DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_batch_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(design) REFERENCES design (code)
);
CREATE TABLE "check" (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	instrument VARCHAR(200) NOT NULL, 
	subject VARCHAR(40) NOT NULL, 
	feature VARCHAR(200), 
	value FLOAT, 
	unit VARCHAR(200), 
	lowest FLOAT, 
	highest FLOAT, 
	passed BOOLEAN NOT NULL, 
	gauge VARCHAR(200), 
	who VARCHAR(200) NOT NULL, 
	day DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_check_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(instrument) REFERENCES instrument (code)
);
INSERT INTO "check" VALUES(1,'check-1','007','leak',NULL,31.5,NULL,NULL,NULL,1,NULL,'Ada',NULL,NULL,1,0);
CREATE TABLE counter (
	name VARCHAR(40) NOT NULL, 
	last INTEGER NOT NULL, 
	PRIMARY KEY (name)
);
INSERT INTO "counter" VALUES('history',4);
INSERT INTO "counter" VALUES('expense',0);
INSERT INTO "counter" VALUES('lot',0);
INSERT INTO "counter" VALUES('order',0);
INSERT INTO "counter" VALUES('printer',0);
INSERT INTO "counter" VALUES('setting',0);
INSERT INTO "counter" VALUES('source',1);
INSERT INTO "counter" VALUES('design',1);
INSERT INTO "counter" VALUES('quote',0);
INSERT INTO "counter" VALUES('sample',0);
INSERT INTO "counter" VALUES('batch',0);
INSERT INTO "counter" VALUES('lever',0);
INSERT INTO "counter" VALUES('measurement',0);
INSERT INTO "counter" VALUES('print_job',0);
INSERT INTO "counter" VALUES('trial',0);
INSERT INTO "counter" VALUES('instrument',1);
INSERT INTO "counter" VALUES('assembly',0);
INSERT INTO "counter" VALUES('check',1);
INSERT INTO "counter" VALUES('labour',0);
INSERT INTO "counter" VALUES('part',0);
INSERT INTO "counter" VALUES('service',0);
CREATE TABLE design (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	file VARCHAR(64) NOT NULL, 
	file_name VARCHAR(200) NOT NULL, 
	parts VARCHAR(200) NOT NULL, 
	sealed_parts VARCHAR(200), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_design_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(file) REFERENCES stored_file (sha256)
);
INSERT INTO "design" VALUES(1,'D1','n','e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855','f','barrel',NULL,NULL,1,0);
CREATE TABLE expense (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	per VARCHAR(40) NOT NULL, 
	price VARCHAR(40) NOT NULL, 
	currency VARCHAR(200), 
	plating VARCHAR(200), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_expense_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1)
);
CREATE TABLE history (
	id INTEGER NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	version INTEGER NOT NULL, 
	at VARCHAR(40) NOT NULL, 
	who VARCHAR(200) NOT NULL, 
	action VARCHAR(40) NOT NULL, 
	reason VARCHAR(200) NOT NULL, 
	data TEXT NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_history_kind UNIQUE (kind, code, version)
);
INSERT INTO "history" VALUES(1,'source','Quay Street',1,'2030-01-01','Ada','added','','{"contact": "Ada"}');
INSERT INTO "history" VALUES(2,'design','D1',1,'2030-01-01','Ada','added','','{"file": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "file_name": "f", "name": "n", "parts": "barrel"}');
INSERT INTO "history" VALUES(3,'instrument','007',1,'2030-01-01','Ada','added','','{"design": "D1"}');
INSERT INTO "history" VALUES(4,'check','check-1',1,'2030-01-01','Ada','added','','{"instrument": "007", "passed": true, "subject": "leak", "value": 31.5, "who": "Ada"}');
CREATE TABLE instrument (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	design VARCHAR(200) NOT NULL, 
	batch VARCHAR(200), 
	"order" VARCHAR(200), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_instrument_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(design) REFERENCES design (code), 
	FOREIGN KEY(batch) REFERENCES batch (code), 
	FOREIGN KEY("order") REFERENCES "order" (code)
);
INSERT INTO "instrument" VALUES(1,'007','D1',NULL,NULL,NULL,1,0);
CREATE TABLE labour (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	step VARCHAR(200) NOT NULL, 
	hours FLOAT NOT NULL, 
	instrument VARCHAR(200), 
	batch VARCHAR(200), 
	who VARCHAR(200), 
	day DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_labour_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(instrument) REFERENCES instrument (code), 
	FOREIGN KEY(batch) REFERENCES batch (code)
);
CREATE TABLE lever (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	sample VARCHAR(200) NOT NULL, 
	"key" VARCHAR(200) NOT NULL, 
	hole VARCHAR(200) NOT NULL, 
	touch_arm_mm FLOAT NOT NULL, 
	pad_arm_mm FLOAT NOT NULL, 
	lift_mm FLOAT, 
	spring_at_pad_g FLOAT, 
	rest VARCHAR(40) NOT NULL, 
	touch_height_mm FLOAT, 
	lowest_touch_mm FLOAT, 
	highest_touch_mm FLOAT, 
	end_play_mm FLOAT, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_lever_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(sample) REFERENCES sample (code)
);
CREATE TABLE lot (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	stuff VARCHAR(40) NOT NULL, 
	description VARCHAR(200), 
	supplier VARCHAR(200), 
	supplier_lot VARCHAR(200), 
	received DATE, 
	moisture_percent FLOAT, 
	dried_hours FLOAT, 
	dried_c FLOAT, 
	coupon_offset_mm FLOAT, 
	coupon_passed BOOLEAN, 
	unit_price VARCHAR(40), 
	unit VARCHAR(200), 
	currency VARCHAR(200), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_lot_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1)
);
CREATE TABLE measurement (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	sample VARCHAR(200) NOT NULL, 
	feature VARCHAR(200) NOT NULL, 
	measure VARCHAR(200) NOT NULL, 
	nominal_mm FLOAT, 
	value_mm FLOAT NOT NULL, 
	gauge VARCHAR(200), 
	who VARCHAR(200), 
	day DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_measurement_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(sample) REFERENCES sample (code)
);
CREATE TABLE "order" (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	customer VARCHAR(200) NOT NULL, 
	contact VARCHAR(200), 
	quantity INTEGER NOT NULL, 
	material VARCHAR(200), 
	barrels VARCHAR(200), 
	plating VARCHAR(200), 
	extras VARCHAR(200), 
	unit_price VARCHAR(40), 
	currency VARCHAR(200) NOT NULL, 
	tax_percent VARCHAR(40), 
	shipping_price VARCHAR(40), 
	deposit VARCHAR(40), 
	deposit_paid DATE, 
	quoted DATE, 
	accepted DATE, 
	promised DATE, 
	delivered DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_order_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1)
);
CREATE TABLE part (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	design VARCHAR(200) NOT NULL, 
	print_job VARCHAR(200), 
	instrument VARCHAR(200), 
	outcome VARCHAR(40) NOT NULL, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_part_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(design) REFERENCES design (code), 
	FOREIGN KEY(print_job) REFERENCES print_job (code), 
	FOREIGN KEY(instrument) REFERENCES instrument (code)
);
CREATE TABLE print_job (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	printer VARCHAR(200) NOT NULL, 
	lot VARCHAR(200) NOT NULL, 
	design VARCHAR(200) NOT NULL, 
	part VARCHAR(200) NOT NULL, 
	settings VARCHAR(200), 
	orientation VARCHAR(200), 
	started DATE, 
	hours FLOAT, 
	mass_g FLOAT, 
	height_mm FLOAT, 
	outcome VARCHAR(40) NOT NULL, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_print_job_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(printer) REFERENCES printer (code), 
	FOREIGN KEY(lot) REFERENCES lot (code), 
	FOREIGN KEY(design) REFERENCES design (code)
);
CREATE TABLE printer (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	height_mm FLOAT, 
	power_w FLOAT, 
	out_of_order BOOLEAN, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_printer_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1)
);
CREATE TABLE quote (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	source VARCHAR(200) NOT NULL, 
	plating VARCHAR(200) NOT NULL, 
	unit_price VARCHAR(40) NOT NULL, 
	currency VARCHAR(200) NOT NULL, 
	minimum_order INTEGER NOT NULL, 
	tooling_price VARCHAR(40), 
	lead_time_days INTEGER, 
	valid_until DATE, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_quote_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(source) REFERENCES source (code)
);
CREATE TABLE sample (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	source VARCHAR(200) NOT NULL, 
	plating VARCHAR(200), 
	carton VARCHAR(200), 
	received DATE, 
	verdict VARCHAR(40), 
	survey_file VARCHAR(64), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_sample_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(source) REFERENCES source (code), 
	FOREIGN KEY(survey_file) REFERENCES stored_file (sha256)
);
CREATE TABLE service (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	instrument VARCHAR(200) NOT NULL, 
	day DATE NOT NULL, 
	complaint VARCHAR(200) NOT NULL, 
	work VARCHAR(200), 
	hours FLOAT, 
	charge VARCHAR(40), 
	currency VARCHAR(200), 
	warranty BOOLEAN, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_service_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(instrument) REFERENCES instrument (code)
);
CREATE TABLE setting (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	value VARCHAR(200) NOT NULL, 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_setting_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1)
);
CREATE TABLE source (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	contact VARCHAR(200), 
	verdict VARCHAR(40), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_source_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1)
);
INSERT INTO "source" VALUES(1,'Quay Street','Ada',NULL,NULL,1,0);
CREATE TABLE stored_file (
	sha256 VARCHAR(64) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	content BLOB NOT NULL, 
	PRIMARY KEY (sha256)
);
INSERT INTO "stored_file" VALUES('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855','f',X'');
CREATE TABLE trial (
	id INTEGER NOT NULL, 
	code VARCHAR(200) NOT NULL, 
	sample VARCHAR(200) NOT NULL, 
	test VARCHAR(40) NOT NULL, 
	feature VARCHAR(200), 
	force_n FLOAT, 
	deflection_mm FLOAT, 
	cycles INTEGER, 
	passed BOOLEAN NOT NULL, 
	report_file VARCHAR(64), 
	note TEXT, 
	version INTEGER NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT uq_trial_code UNIQUE (code), 
	CONSTRAINT version CHECK (version >= 1), 
	FOREIGN KEY(sample) REFERENCES sample (code), 
	FOREIGN KEY(report_file) REFERENCES stored_file (sha256)
);
CREATE TRIGGER history_no_update BEFORE UPDATE ON "history" BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;
CREATE TRIGGER history_no_delete BEFORE DELETE ON "history" BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;
CREATE TRIGGER expense_no_delete BEFORE DELETE ON "expense" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE TRIGGER lot_no_delete BEFORE DELETE ON "lot" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE TRIGGER order_no_delete BEFORE DELETE ON "order" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE TRIGGER printer_no_delete BEFORE DELETE ON "printer" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE TRIGGER setting_no_delete BEFORE DELETE ON "setting" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE TRIGGER source_no_delete BEFORE DELETE ON "source" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE TRIGGER design_no_delete BEFORE DELETE ON "design" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_quote_source ON quote (source);
CREATE TRIGGER quote_no_delete BEFORE DELETE ON "quote" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_sample_source ON sample (source);
CREATE TRIGGER sample_no_delete BEFORE DELETE ON "sample" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_batch_design ON batch (design);
CREATE TRIGGER batch_no_delete BEFORE DELETE ON "batch" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_lever_sample ON lever (sample);
CREATE TRIGGER lever_no_delete BEFORE DELETE ON "lever" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_measurement_sample ON measurement (sample);
CREATE TRIGGER measurement_no_delete BEFORE DELETE ON "measurement" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_print_job_printer ON print_job (printer);
CREATE INDEX ix_print_job_lot ON print_job (lot);
CREATE INDEX ix_print_job_design ON print_job (design);
CREATE TRIGGER print_job_no_delete BEFORE DELETE ON "print_job" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_trial_sample ON trial (sample);
CREATE TRIGGER trial_no_delete BEFORE DELETE ON "trial" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_instrument_design ON instrument (design);
CREATE INDEX ix_instrument_batch ON instrument (batch);
CREATE INDEX ix_instrument_order ON instrument ("order");
CREATE TRIGGER instrument_no_delete BEFORE DELETE ON "instrument" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_assembly_instrument ON assembly (instrument);
CREATE INDEX ix_assembly_keywork_lot ON assembly (keywork_lot);
CREATE INDEX ix_assembly_pad_lot ON assembly (pad_lot);
CREATE INDEX ix_assembly_spring_lot ON assembly (spring_lot);
CREATE INDEX ix_assembly_cork_lot ON assembly (cork_lot);
CREATE INDEX ix_assembly_coating_lot ON assembly (coating_lot);
CREATE TRIGGER assembly_no_delete BEFORE DELETE ON "assembly" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_check_instrument ON "check" (instrument);
CREATE TRIGGER check_no_delete BEFORE DELETE ON "check" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_labour_instrument ON labour (instrument);
CREATE INDEX ix_labour_batch ON labour (batch);
CREATE TRIGGER labour_no_delete BEFORE DELETE ON "labour" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_part_design ON part (design);
CREATE INDEX ix_part_print_job ON part (print_job);
CREATE INDEX ix_part_instrument ON part (instrument);
CREATE TRIGGER part_no_delete BEFORE DELETE ON "part" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
CREATE INDEX ix_service_instrument ON service (instrument);
CREATE TRIGGER service_no_delete BEFORE DELETE ON "service" BEGIN SELECT RAISE(ABORT, 'records are withdrawn, never deleted'); END;
COMMIT;
