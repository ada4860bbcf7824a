CREATE TABLE "log_months" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"month" text NOT NULL,
	"detail" jsonb NOT NULL,
	CONSTRAINT "log_months_machine_id_log_id_month_pk" PRIMARY KEY("machine_id","log_id","month")
);
--> statement-breakpoint
CREATE TABLE "machine_months" (
	"machine_id" text NOT NULL,
	"site_id" text NOT NULL,
	"month" text NOT NULL,
	"summary" jsonb NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "machine_months_machine_id_month_pk" PRIMARY KEY("machine_id","month")
);
--> statement-breakpoint
CREATE TABLE "month_baselines" (
	"machine_id" text NOT NULL,
	"site_id" text NOT NULL,
	"number" integer NOT NULL,
	"from_month" text,
	"until_month" text,
	"author" text NOT NULL,
	"note" text,
	"at" timestamp with time zone NOT NULL,
	CONSTRAINT "month_baselines_machine_id_number_pk" PRIMARY KEY("machine_id","number")
);
--> statement-breakpoint
CREATE TABLE "month_events" (
	"site_id" text NOT NULL,
	"month" text NOT NULL,
	"number" integer NOT NULL,
	"action" text NOT NULL,
	"author" text NOT NULL,
	"note" text,
	"frozen" jsonb,
	"at" timestamp with time zone NOT NULL,
	CONSTRAINT "month_events_site_id_month_number_pk" PRIMARY KEY("site_id","month","number")
);
--> statement-breakpoint
CREATE TABLE "site_versions" (
	"site_id" text NOT NULL,
	"number" integer NOT NULL,
	"settings" jsonb NOT NULL,
	"author" text,
	"reason" text,
	"corrects_past" boolean NOT NULL,
	"at" timestamp with time zone NOT NULL,
	CONSTRAINT "site_versions_site_id_number_pk" PRIMARY KEY("site_id","number")
);
--> statement-breakpoint
ALTER TABLE "log_months" ADD CONSTRAINT "log_months_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "machine_months" ADD CONSTRAINT "machine_months_machine_id_machines_id_fk" FOREIGN KEY ("machine_id") REFERENCES "public"."machines"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "month_baselines" ADD CONSTRAINT "month_baselines_machine_id_machines_id_fk" FOREIGN KEY ("machine_id") REFERENCES "public"."machines"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "month_events" ADD CONSTRAINT "month_events_site_id_sites_id_fk" FOREIGN KEY ("site_id") REFERENCES "public"."sites"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "site_versions" ADD CONSTRAINT "site_versions_site_id_sites_id_fk" FOREIGN KEY ("site_id") REFERENCES "public"."sites"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "machine_months_by_month" ON "machine_months" USING btree ("site_id","month");--> statement-breakpoint
CREATE INDEX "month_baselines_by_site" ON "month_baselines" USING btree ("site_id");