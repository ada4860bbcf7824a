CREATE TABLE "log_production" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"pieces" double precision NOT NULL,
	"note" text,
	"author" text,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "log_production_machine_id_log_id_pk" PRIMARY KEY("machine_id","log_id")
);
--> statement-breakpoint
CREATE TABLE "measure_events" (
	"machine_id" text NOT NULL,
	"measure_id" text NOT NULL,
	"site_id" text NOT NULL,
	"seq" integer NOT NULL,
	"state" text NOT NULL,
	"on_day" text NOT NULL,
	"reason" text,
	"author" text,
	"proof" jsonb,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "measure_events_machine_id_measure_id_seq_pk" PRIMARY KEY("machine_id","measure_id","seq")
);
--> statement-breakpoint
CREATE TABLE "measure_quotes" (
	"machine_id" text NOT NULL,
	"measure_id" text NOT NULL,
	"site_id" text NOT NULL,
	"id" text NOT NULL,
	"text" text NOT NULL,
	"amount" double precision NOT NULL,
	"currency" text NOT NULL,
	"on_day" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "measure_quotes_machine_id_measure_id_id_pk" PRIMARY KEY("machine_id","measure_id","id")
);
--> statement-breakpoint
CREATE TABLE "measures" (
	"machine_id" text NOT NULL,
	"id" text NOT NULL,
	"site_id" text NOT NULL,
	"option_id" text,
	"title" text,
	"state" text NOT NULL,
	"owner" text,
	"notes" text,
	"expected" jsonb,
	"machine_then" jsonb NOT NULL,
	"setup" jsonb NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "measures_machine_id_id_pk" PRIMARY KEY("machine_id","id")
);
--> statement-breakpoint
CREATE TABLE "trials" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"id" text NOT NULL,
	"at_s" double precision NOT NULL,
	"cycles" integer NOT NULL,
	"measure_id" text,
	"note" text,
	"author" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "trials_machine_id_log_id_id_pk" PRIMARY KEY("machine_id","log_id","id")
);
--> statement-breakpoint
ALTER TABLE "analyses" ADD COLUMN "evidence" jsonb;--> statement-breakpoint
ALTER TABLE "log_production" ADD CONSTRAINT "log_production_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "measure_events" ADD CONSTRAINT "measure_events_machine_id_measure_id_measures_machine_id_id_fk" FOREIGN KEY ("machine_id","measure_id") REFERENCES "public"."measures"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "measure_quotes" ADD CONSTRAINT "measure_quotes_machine_id_measure_id_measures_machine_id_id_fk" FOREIGN KEY ("machine_id","measure_id") REFERENCES "public"."measures"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "measures" ADD CONSTRAINT "measures_machine_id_machines_id_fk" FOREIGN KEY ("machine_id") REFERENCES "public"."machines"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "trials" ADD CONSTRAINT "trials_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "measures_by_id" ON "measures" USING btree ("id");--> statement-breakpoint
CREATE INDEX "measures_by_site" ON "measures" USING btree ("site_id","state");